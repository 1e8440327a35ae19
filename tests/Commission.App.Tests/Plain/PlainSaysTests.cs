using System.Collections.Immutable;
using Commission.App.CommandLine;
using Commission.App.Plain;
using Commission.App.Tests.CommandLine;
using Commission.Core.Procedures;
using Commission.Tests;
using Commission.Workshop.Sessions;

namespace Commission.App.Tests.Plain;

/// <summary>What a question of plain mode says an answer does is said in a run, and that answer does it.</summary>
public sealed class PlainSaysTests
{
    private static readonly ImmutableArray<string> ToReadings = ["yes", "yes", "yes", "yes", "yes", "yes"];

    /// <summary>A run up to a question and the answer that it names.</summary>
    /// <param name="Words">What the question says.</param>
    /// <param name="Typed">The answers of the run, the one it names last.</param>
    /// <param name="Does">Whether it was done, from the journal and the number of moves made.</param>
    private sealed record Said(string Words, ImmutableArray<string> Typed, Func<ImmutableArray<EntryBody>, int, bool> Does)
    {
        public bool Linked { get; init; }

        /// <summary>The setting that the run is made with.</summary>
        public Func<SessionRequest, SessionRequest> With { get; init; } = request => request;
    }

    private static readonly ImmutableArray<string> ToDistances = ["yes", "yes", "yes", "yes"];

    private static readonly Func<SessionRequest, SessionRequest> OfDiagonals = request => request with { Procedure = ShippedProcedures.Read("diagonals"), Axis = null, Instrument = null };

    private static readonly ImmutableArray<Said> Runs =
    [
        new("yes or S for yes, no ends here", ["s"], (bodies, _) => Confirmed(bodies, "hazards")),
        new("yes or S goes on", ["s", "s"], (bodies, _) => bodies.OfType<EntryBody.Confirmed>().Count() == 2),
        new("no puts the run aside", ["s", "no"], (bodies, _) => PutAside(bodies)),
        new("no puts the run aside.", ["s", "O"], (bodies, _) => PutAside(bodies)),
        new("ask number scale/1: Reading 1 of 10", [.. ToReadings, .. First(1)], (bodies, _) => bodies.OfType<EntryBody.ReadingTaken>().Count() == 1),
        new("R reads the last one again", [.. ToReadings, .. First(1), "r"], (bodies, _) => bodies.OfType<EntryBody.Superseded>().Any()),
        new("X and a reason leaves it out", [.. ToReadings, .. First(1), "x jaw slipped"], (bodies, _) => bodies.OfType<EntryBody.Excluded>().Single().Reason == "jaw slipped"),
        new("Q puts the run aside", [.. ToReadings, "q"], (bodies, _) => PutAside(bodies)),
        new("R reads it again", [.. ToReadings, .. First(6), Slipped(6), "r", .. First(7)[6..]], (bodies, _) => bodies.OfType<EntryBody.Superseded>().Any()),
        new("R reads it again.", [.. ToReadings, .. First(6), Slipped(6), .. First(7)[6..]], (bodies, _) => bodies.OfType<EntryBody.Superseded>().Any() && bodies.OfType<EntryBody.ReadingTaken>().Count() == 8),
        new("A takes", [.. ToReadings, .. First(6), Slipped(6), "a"], (bodies, _) => bodies.OfType<EntryBody.Superseded>().Any() && bodies.OfType<EntryBody.ReadingTaken>().Count() == 8),
        new("O keeps it, marked in the report", [.. ToReadings, .. First(6), Slipped(6), "o"], (bodies, _) => !bodies.OfType<EntryBody.Superseded>().Any() && bodies.OfType<EntryBody.Noted>().Any(noted => noted.Text.Contains("kept", StringComparison.Ordinal))),
        new("mm from the distance that was commanded; perhaps the decimal point one place off. A slip? R reads it again. A takes 657.5 mm.", [.. ToDistances, "65.75", "a"], (bodies, _) => bodies.OfType<EntryBody.ReadingTaken>().Last().Value == 657.5)
        {
            With = OfDiagonals,
        },
        new("534.0 lies 4.00 mm from reading 4, 538.0, of the same place; either may be off. A slip? R reads it again. A reads reading 4, 538.0 mm, again. O", [.. ToDistances, "657.5", "658.0", "384.0", "538.0", "534.0", "a", "534.5"], (bodies, _) => bodies.OfType<EntryBody.ReadingTaken>().Last() is { Cell: 3, Value: 534.5 })
        {
            With = OfDiagonals,
        },
        new("skip and a reason passes it over", ["s", "no", "skip no cover"], (bodies, _) => bodies.OfType<EntryBody.Skipped>().Single() is { Check: "C01", Reason: "no cover" })
        {
            With = request => request with { Procedure = OneCheck.Followed(), Axis = null },
        },
        new("O to leave it as it is", [.. ToReadings, .. First(10, stretch: 1600e-6), "yes", "o"], (bodies, _) => Left(bodies)) { With = OfPlastics },
        // Found in use: O left the setting as it is in one question and stored ten times the ratio in the next.
        new("keep stores 3192 steps/mm", [.. ToReadings, .. First(10, stretch: 1600e-6), "yes", "3192", "o", "r", "o"], (bodies, _) => Left(bodies) && !bodies.OfType<EntryBody.SettingWritten>().Any()) { With = OfPlastics },
        new("keep stores 3192 steps/mm. Empty for R.", [.. ToReadings, .. First(10, stretch: 1600e-6), "yes", "3192", "keep"], (bodies, _) => bodies.OfType<EntryBody.SettingWritten>().Single().After.Equals(3192.0)) { With = OfPlastics },
        new("so does an empty line", [.. ToReadings, .. First(10, stretch: 1600e-6), "yes", "", ""], (bodies, _) => Left(bodies)) { With = OfPlastics },
        new("Type the words at the end to move", [.. ToReadings, "go X+25"], (_, made) => made == 1) { Linked = true },
        new("Q to put the run aside", [.. ToReadings, "q"], (bodies, made) => PutAside(bodies) && made == 0) { Linked = true },
    ];

    public static TheoryData<string> Words => [.. Runs.Select(run => run.Words)];

    [Theory]
    [MemberData(nameof(Words))]
    public async Task What_a_question_says_is_asked_in_a_run_and_its_answer_does_it(string words)
    {
        var run = Runs.Single(one => one.Words == words);
        using var journal = PlainFrontTests.Journal();
        var motion = run.Linked ? new PlainFrontTests.Scripted() : null;
        using var output = new StringWriter();
        using var input = new StringReader(string.Join('\n', run.Typed));
        var session = ProcedureSession.Open(journal, run.With(PlainFrontTests.Request(motion))).Require();
        await new PlainFront(input, output, TextWriter.Null).RunAsync(session, TestContext.Current.CancellationToken);
        Assert.Contains(output.ToString().Split('\n'), line => line.StartsWith("ask ", StringComparison.Ordinal) && line.Contains(words, StringComparison.Ordinal));
        ImmutableArray<EntryBody> bodies = [.. journal.Entries().Select(entry => entry.Body)];
        Assert.True(run.Does(bodies, motion?.Made ?? 0), output + string.Join('\n', bodies));
    }

    [Fact]
    public async Task The_bench_is_left_by_the_word_that_its_question_names()
    {
        var ending = await Typed.RunWith("quit\nmachine\n", "--plain");
        Assert.EndsWith(", quit.", Assert.Single(ending.Lines, line => line.StartsWith("ask ", StringComparison.Ordinal)), StringComparison.Ordinal);
        Assert.Equal(ExitCode.Done, ending.Code);
    }

    private static bool Confirmed(ImmutableArray<EntryBody> bodies, string step) => bodies.OfType<EntryBody.Confirmed>().Any(confirmed => confirmed.Step == step);

    private static bool Left(ImmutableArray<EntryBody> bodies) => bodies.OfType<EntryBody.Confirmed>().Any(confirmed => confirmed is { Step: "set", Answer: "left as it is" });

    private static SessionRequest OfPlastics(SessionRequest request) => request with { Machine = request.Machine with { Class = WorkClass.Plastics, X = new AxisDescription { StepsPerMm = 320 } } };

    private static bool PutAside(ImmutableArray<EntryBody> bodies) => bodies[^1] is EntryBody.RunEnded { How: "put-aside" };

    private static string[] First(int count, double stretch = 0) => [.. PlainFrontTests.Readings(0, count, stretch)];

    // A whole millimetre misread.
    private static string Slipped(int at) =>
        (double.Parse(First(at + 1)[at], System.Globalization.CultureInfo.InvariantCulture) + 1).ToString("F2", System.Globalization.CultureInfo.InvariantCulture);
}
