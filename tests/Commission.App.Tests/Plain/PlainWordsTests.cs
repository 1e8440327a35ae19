using System.Collections.Immutable;
using Commission.App.Plain;
using Commission.App.Tests.CommandLine;
using Commission.Core.Procedures;
using Commission.Tests;
using Commission.Workshop.Sessions;

namespace Commission.App.Tests.Plain;

/// <summary>Every question of a run against the words that hold at every question: Q puts the run aside, help tells more, U takes back what can be taken back.</summary>
public sealed class PlainWordsTests
{
    private static readonly ImmutableArray<string> ToReadings = ["s", "s", "s"];

    /// <summary>A question, the answers that lead to it, and whether something can be taken back there.</summary>
    private sealed record Place(string Prompt, ImmutableArray<string> Typed, string? TakenBackTo)
    {
        public bool Linked { get; init; }

        public Func<SessionRequest, SessionRequest> With { get; init; } = request => request;
    }

    private static readonly ImmutableArray<Place> Places =
    [
        new("ask confirm hazards: ", [], null),
        new("ask confirm blocks: ", ["s"], null),
        new("ask number scale/1: ", ToReadings, "ask confirm "),
        new("ask number scale/3: ", [.. ToReadings, .. First(2)], "ask number scale/2: "),
        new("ask choose comma: ", [.. ToReadings, "1,234"], "ask number scale/1: "),
        new("ask choose scale: ", [.. ToReadings, .. First(6), Slipped(6)], "ask number scale/7: "),
        new("ask motion scale: ", ToReadings, "ask confirm ") { Linked = true },
        new("ask text set: ", [.. ToReadings, .. PlainFrontTests.Readings(0, 10, 1600e-6), "yes"], null)
        {
            With = request => request with { Machine = request.Machine with { Class = WorkClass.Plastics, X = new AxisDescription { StepsPerMm = 320 } } },
        },
        new("ask number p05: ", ["s", "s"], "ask choose p05a: ") { With = Readiness },
        new("ask choose p05: ", ["s", "s", "-48"], "ask number p05: ") { With = Readiness },
        new("ask choose cover: ", ["s"], null) { With = Check },
        new("ask choose cover: Put right?", ["s", "no"], "ask choose cover: ") { With = Check },
        new("ask text words: ", ["s", "yes"], "ask choose cover: ") { With = Check },
        new("ask confirm shim: ", ["s", "yes", "12"], "ask text words: ") { With = Check },
    ];

    public static TheoryData<int, string> All => [.. Places.SelectMany((_, i) => new[] { "q", "Q", "quit", "help", "?", "u", "undo" }.Select(word => (i, word)))];

    [Theory]
    [MemberData(nameof(All))]
    public async Task A_word_that_holds_everywhere_does_what_it_says_at_every_question(int at, string word)
    {
        var place = Places[at];
        using var journal = PlainFrontTests.Journal();
        var motion = place.Linked ? new PlainFrontTests.Scripted() : null;
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        using var input = new StringReader(string.Join('\n', [.. place.Typed, word]));
        var session = ProcedureSession.Open(journal, place.With(PlainFrontTests.Request(motion))).Require();
        await new PlainFront(input, output, error).RunAsync(session, TestContext.Current.CancellationToken);
        var prompts = output.ToString().Split('\n').Where(line => line.StartsWith("ask ", StringComparison.Ordinal)).ToArray();
        var asked = Array.FindLastIndex(prompts, prompt => prompt.StartsWith(place.Prompt, StringComparison.Ordinal));
        Assert.True(asked >= 0, output.ToString() + error);
        Assert.DoesNotContain("is no answer here", error.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain("is none of the two", error.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain("nothing moved", error.ToString(), StringComparison.Ordinal);
        Assert.Equal(0, motion?.Made ?? 0);
        switch (word)
        {
            case "help" or "?":
                Assert.StartsWith(place.Prompt, prompts[^1], StringComparison.Ordinal);
                Assert.Equal(prompts[^1], prompts[^2]);
                Assert.Contains("Q puts the run aside: started again it goes on from here.", output.ToString(), StringComparison.Ordinal);
                break;
            case "u" or "undo":
                Assert.StartsWith(place.TakenBackTo ?? place.Prompt, prompts[^1], StringComparison.Ordinal);
                Assert.Equal(place.TakenBackTo is null, error.ToString().Contains("is not", StringComparison.Ordinal) || error.ToString().Contains("nothing was answered yet", StringComparison.Ordinal) || error.ToString().Contains("stays done", StringComparison.Ordinal));
                break;
            default:
                Assert.Equal(asked, prompts.Length - 1);
                Assert.Equal("put-aside", Assert.IsType<Need.Ended>(session.Needs).How);
                break;
        }
    }

    // A question that goes no other way takes the words too: one place asks in a run, one outside of it.
    [Fact]
    public void Every_question_goes_one_of_two_ways()
    {
        var asks = Directory.GetFiles(Path.Combine(Repository.Root, "src", "Commission.App"), "*.cs", SearchOption.AllDirectories)
            .Where(file => File.ReadAllText(file).Contains("ReadLine()", StringComparison.Ordinal)).Select(Path.GetFileName).Order(StringComparer.Ordinal);
        Assert.Equal(["PlainAsking.cs", "PlainQuestion.cs", "TypedLines.cs"], asks);
    }

    private static SessionRequest Readiness(SessionRequest request) => request with { Procedure = ShippedProcedures.Read("readiness"), Axis = null };

    private static SessionRequest Check(SessionRequest request) => request with { Procedure = TwoSteps, Axis = null };

    private static Core.Procedures.Procedure TwoSteps => OneCheck.Followed(
        """
          - name: words
            check:
              id: C02
              ask: Which one is it?
              answer: text
              source: common practice
              ifOut: Look again.
          - name: shim
            confirm: The cover sits flat.
        """);

    private static string[] First(int count) => [.. PlainFrontTests.Readings(0, count)];

    private static string Slipped(int at) => (double.Parse(First(at + 1)[at], System.Globalization.CultureInfo.InvariantCulture) + 1).ToString("F2", System.Globalization.CultureInfo.InvariantCulture);
}
