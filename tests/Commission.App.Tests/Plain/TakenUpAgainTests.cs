using System.Collections.Immutable;
using Commission.App.CommandLine;
using Commission.App.Plain;
using Commission.Core.Procedures;
using Commission.Tests;
using Commission.Workshop.Sessions;

namespace Commission.App.Tests.Plain;

/// <summary>A run that was left and is taken up again question by question: its hazards once more, and what only a person can tell of the time between.</summary>
public sealed class TakenUpAgainTests
{
    // Found in use: four readings over the link, then by hand without a word, the hazards unread and no question about power and blocks.
    [Fact]
    public async Task The_hazards_are_read_again_and_power_and_blocks_are_asked_for_before_the_next_reading()
    {
        using var journal = PlainFrontTests.Journal();
        await Run(journal, 4);
        var (_, lines) = await Run(journal, 5, ("power", "no"), ("set-up", "yes"));
        Assert.Equal(["hazards", "power", "set-up", "scale/5", "scale/6"], Asked(lines));
        Assert.Contains(lines, line => line.StartsWith("Hazard 1 of 3. ", StringComparison.Ordinal));
        Assert.Contains(lines, line => line.StartsWith("Taken up again: the run of ", StringComparison.Ordinal) && line.Contains("put aside at", StringComparison.Ordinal));
        Assert.Contains("On disk and checked: 4 of 10 readings of this step.", lines);
        Assert.Contains(lines, line => line.StartsWith("ask choose power: Was the power of the drives off since ", StringComparison.Ordinal));
        Assert.Contains(lines, line => line.StartsWith("ask choose set-up: Caliper and blocks untouched since then?", StringComparison.Ordinal));
        Assert.Equal("", Readings(journal)[^1].Words.GetValueOrDefault("zero", ""));
        Assert.Contains(journal.Entries(), entry => entry.Body is EntryBody.Noted { Text: "taken up again; drives off since: no; set-up untouched: yes" });
    }

    [Theory]
    [InlineData("yes", "yes")]
    [InlineData("s", "yes")]
    [InlineData("", "yes")]
    [InlineData("no", "no")]
    [InlineData("n", "not sure")]
    public async Task What_does_not_hold_for_certain_gives_a_zero_of_its_own(string power, string untouched)
    {
        using var journal = PlainFrontTests.Journal();
        await Run(journal, 4);
        var (_, lines) = await Run(journal, 5, ("power", power), ("set-up", untouched));
        Assert.Contains("From here on a zero of its own: the readings before stay good.", lines);
        Assert.Equal("2", Readings(journal)[^1].Words["zero"]);
    }

    [Fact]
    public async Task From_the_link_to_moves_by_hand_is_told_asked_and_gives_a_zero_of_its_own()
    {
        using var journal = PlainFrontTests.Journal();
        await Run(journal, 4, linked: true);
        var (_, lines) = await Run(journal, 5, ("power", "no"), ("set-up", "yes"));
        Assert.Equal(["hazards", "by-hand", "power", "set-up", "scale/5", "scale/6"], Asked(lines));
        var asked = Assert.Single(lines, line => line.StartsWith("ask confirm by-hand: ", StringComparison.Ordinal));
        Assert.Contains("Its moves were made over the link, and none is open now.", asked, StringComparison.Ordinal);
        Assert.Contains("a zero of its own", asked, StringComparison.Ordinal);
        Assert.Equal("2", Readings(journal)[^1].Words["zero"]);
        Assert.Contains(journal.Entries(), entry => entry.Body is EntryBody.Noted { Text: EntryBody.Noted.ByHand });
    }

    [Fact]
    public async Task Who_does_not_go_on_by_hand_puts_it_aside_and_it_still_belongs_to_the_link()
    {
        using var journal = PlainFrontTests.Journal();
        await Run(journal, 4, linked: true);
        var (code, lines) = await Run(journal, 5, ("by-hand", "no"));
        Assert.Equal(ExitCode.Done, code);
        Assert.DoesNotContain("recorded 5", lines);
        Assert.Equal("put aside until the link is open", Assert.IsType<EntryBody.RunEnded>(journal.Entries().Last().Body).Reason);
        var (_, again) = await Run(journal, 5, ("power", "no"), ("set-up", "yes"));
        Assert.Contains("by-hand", Asked(again));
    }

    // Over the link again: homing stands before its first move anyway, and nothing is asked about moves by hand.
    [Fact]
    public async Task Over_the_link_again_it_says_so_and_goes_on_with_its_moves()
    {
        using var journal = PlainFrontTests.Journal();
        await Run(journal, 4, linked: true);
        var (_, lines) = await Run(journal, 5, linked: true, ("power", "no"), ("set-up", "yes"));
        Assert.Equal(["hazards", "power", "set-up", "scale", "scale", "scale/5"], Asked(lines).Take(6));
        Assert.Contains("It goes on over the link: the position is not trusted yet, and each move has its own box.", lines);
    }

    // Found in use: "5 readings are on disk", then "recorded 6" and "reading 5 of 10".
    [Fact]
    public async Task The_numbers_of_readings_agree()
    {
        using var journal = PlainFrontTests.Journal();
        await Run(journal, 5, ("scale/6", "r"));
        var (_, lines) = await Run(journal, 6, ("power", "no"), ("set-up", "yes"));
        Assert.Contains("On disk and checked: 4 of 10 readings of this step. 5 were recorded in all: 1 replaced or taken back.", lines);
        Assert.Contains("recorded 6", lines);
    }

    [Fact]
    public async Task Hazards_that_are_not_confirmed_put_it_aside_as_it_was()
    {
        using var journal = PlainFrontTests.Journal();
        await Run(journal, 4);
        var (_, lines) = await Run(journal, 5, ("hazards", "no"));
        Assert.Equal(["hazards"], Asked(lines));
        Assert.IsType<EntryBody.RunEnded>(journal.Entries().Last().Body);
        Assert.DoesNotContain(journal.Entries(), entry => entry.Body is EntryBody.Noted noted && noted.Text.StartsWith("taken up again", StringComparison.Ordinal));
    }

    [Fact]
    public async Task U_goes_back_to_the_question_before_and_an_answer_that_is_none_asks_again()
    {
        using var journal = PlainFrontTests.Journal();
        await Run(journal, 4);
        var (_, lines) = await Run(journal, 5, ("power", "perhaps"), ("power", "yes"), ("set-up", "u"), ("power", "no"), ("set-up", "yes"));
        Assert.Equal(["hazards", "power", "power", "set-up", "power", "set-up", "scale/5", "scale/6"], Asked(lines));
        Assert.Equal("", Readings(journal)[^1].Words.GetValueOrDefault("zero", ""));
        Assert.DoesNotContain(lines, line => line.StartsWith("taken back", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("r", "aborted")]
    [InlineData("", "put-aside")]
    [InlineData("q", "put-aside")]
    public async Task Readings_of_one_set_up_are_not_mixed_with_those_of_another(string answer, string how)
    {
        using var journal = PlainFrontTests.Journal();
        SessionRequest Lost(SessionRequest request) => request with { Procedure = ShippedProcedures.Read("backlash") };
        await Run(journal, 2, with: Lost);
        var (_, lines) = await Run(journal, 3, with: Lost, ("power", "yes"), ("set-up", "yes"), ("one-set-up", answer));
        Assert.Equal(["hazards", "power", "set-up", "one-set-up"], Asked(lines));
        Assert.Equal(how, Assert.IsType<EntryBody.RunEnded>(journal.Entries().Last().Body).How);
        Assert.Equal(how == "aborted", lines.Contains("Begin it anew: procedure run backlash --axis X."));
    }

    // Found in use: a list whose first step is that everything is dead asked for caliper and blocks, and sent to homing.
    [Theory]
    [InlineData("first-power-up")]
    [InlineData("readiness")]
    [InlineData("gauge-study")]
    public async Task What_hangs_on_no_set_up_asks_nothing_of_it(string id)
    {
        using var journal = PlainFrontTests.Journal();
        SessionRequest Other(SessionRequest request) => request with { Procedure = ShippedProcedures.Read(id), Axis = null };
        await Run(journal, 3, with: Other);
        var (_, lines) = await Run(journal, 4, with: Other);
        Assert.Equal("hazards", Asked(lines)[0]);
        Assert.DoesNotContain(Asked(lines), name => name is "power" or "set-up" or "by-hand");
        Assert.DoesNotContain(lines, line => line.Contains("Home the machine first", StringComparison.Ordinal) || line.Contains("Caliper and blocks", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Distances_between_marks_ask_for_the_marks_and_not_for_the_drives()
    {
        using var journal = PlainFrontTests.Journal();
        SessionRequest Marks(SessionRequest request) => request with { Procedure = ShippedProcedures.Read("distance-network"), Axis = null };
        await Run(journal, 3, with: Marks);
        var (_, lines) = await Run(journal, 4, with: Marks, ("set-up", "yes"));
        Assert.Equal(["hazards", "set-up", "distances"], Asked(lines).Take(3).Select(name => name.Split((char)47)[0]));
        Assert.Contains(lines, line => line.StartsWith("ask choose set-up: Marks, board and tape untouched since then?", StringComparison.Ordinal));
    }

    private static string[] Asked(IEnumerable<string> lines) => [.. lines.Where(line => line.StartsWith("ask ", StringComparison.Ordinal)).Select(Name)];

    private static string Name(string prompt) => prompt.Split(' ')[2].TrimEnd(':');

    private static EntryBody.ReadingTaken[] Readings(MemoryJournal journal) => [.. journal.Entries().Select(entry => entry.Body).OfType<EntryBody.ReadingTaken>()];

    private static Task<(int Code, IReadOnlyList<string> Lines)> Run(MemoryJournal journal, int readings, params ImmutableArray<(string Name, string Answer)> answers) => Run(journal, readings, false, null, answers);

    private static Task<(int Code, IReadOnlyList<string> Lines)> Run(MemoryJournal journal, int readings, bool linked, params ImmutableArray<(string Name, string Answer)> answers) => Run(journal, readings, linked, null, answers);

    private static Task<(int Code, IReadOnlyList<string> Lines)> Run(MemoryJournal journal, int readings, Func<SessionRequest, SessionRequest> with, params ImmutableArray<(string Name, string Answer)> answers) => Run(journal, readings, false, with, answers);

    // Answers what is named first, then readings up to the one named, then Q; all else is so.
    private static async Task<(int Code, IReadOnlyList<string> Lines)> Run(
        MemoryJournal journal, int readings, bool linked, Func<SessionRequest, SessionRequest>? with, ImmutableArray<(string Name, string Answer)> answers)
    {
        var shown = PlainFrontTests.Readings(0, 10).ToArray();
        var left = answers.ToList();
        var taken = journal.Entries().Count(entry => entry.Body is EntryBody.ReadingTaken);
        string Answer(string prompt)
        {
            var name = Name(prompt);
            if (left.FindIndex(one => one.Name == name) is >= 0 and var at)
            {
                var given = left[at].Answer;
                left.RemoveAt(at);
                return given;
            }

            if (prompt.StartsWith("ask motion ", StringComparison.Ordinal))
                return "go X+25";
            if (!prompt.StartsWith("ask number ", StringComparison.Ordinal) || !name.Contains('/', StringComparison.Ordinal))
                return prompt.StartsWith("ask number ", StringComparison.Ordinal) ? "q" : "yes";
            return taken++ < readings ? name.StartsWith("scale/", StringComparison.Ordinal) ? shown[int.Parse(name[6..], System.Globalization.CultureInfo.InvariantCulture) - 1] : name.StartsWith("distances/", StringComparison.Ordinal) ? "400.0" : "0.01" : "q";
        }

        var person = new AnsweringPerson(Answer);
        var request = PlainFrontTests.Request(linked ? new PlainFrontTests.Scripted() : null);
        var session = ProcedureSession.Open(journal, with?.Invoke(request) ?? request).Require();
        var code = await new PlainFront(person.Keyboard, person, person).RunAsync(session, TestContext.Current.CancellationToken);
        return (code, person.Lines);
    }
}
