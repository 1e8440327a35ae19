using Commission.App.Plain;
using Commission.Core.Instruments;
using Commission.Tests;
using Commission.Workshop.Sessions;

namespace Commission.App.Tests.Plain;

/// <summary>What is told before the first question, and what every question names.</summary>
public sealed class PlainHeadTests
{
    // Found by use: what a procedure rests on was told without a word on whether it had ever been done.
    [Fact]
    public async Task What_it_rests_on_is_told_with_how_it_stands()
    {
        using var journal = PlainFrontTests.Journal();
        var before = await Told(journal, "axis-scale");
        Assert.Contains(before, line => line.StartsWith("Rests on ratio-check (needed; never measured): ", StringComparison.Ordinal));
        journal.Append(new EntryBody.StudyMade(new HandStudy("M", Invented.Caliper.Name, 0.012, 14)) { Operator = "M" }).Require();
        journal.Append(new EntryBody.RunEnded("aborted", "told") { Machine = "Heron", Run = 1 });
        Assert.Contains(await Told(journal, "axis-scale"), line => line.StartsWith("Rests on gauge-study (advised; fresh): ", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_study_of_the_hand_speaks_of_no_moves()
    {
        using var journal = PlainFrontTests.Journal();
        Assert.DoesNotContain(await Told(journal, "gauge-study"), line => line.Contains("you command each move", StringComparison.Ordinal));
        Assert.Contains(await Told(journal, "axis-scale"), line => line.Contains("you command each move", StringComparison.Ordinal));
    }

    // Found by use: the questions of a check list named how to go back and not how to leave.
    [Theory]
    [InlineData("readiness")]
    [InlineData("gauge-study")]
    [InlineData("backlash")]
    public async Task Every_question_after_the_hazards_names_how_to_leave(string id)
    {
        using var journal = PlainFrontTests.Journal();
        var person = new AnsweringPerson(prompt => prompt.StartsWith("ask number ", StringComparison.Ordinal) ? "0" : prompt.Contains("/6:", StringComparison.Ordinal) ? "q" : "yes");
        await new PlainFront(person.Keyboard, person, person).RunAsync(ProcedureSession.Open(journal, Of(id)).Require(), TestContext.Current.CancellationToken);
        var asked = person.Lines.Where(line => line.StartsWith("ask ", StringComparison.Ordinal)).Skip(1).ToArray();
        Assert.True(asked.Length > 4, string.Join('\n', asked));
        Assert.All(asked, line => Assert.True(line.Contains("puts the run aside", StringComparison.Ordinal) || line.Contains("R, X, U and Q as before", StringComparison.Ordinal) || line.Contains("A slip?", StringComparison.Ordinal), line));
    }

    private static SessionRequest Of(string id) => PlainFrontTests.Request(null) with { Procedure = ShippedProcedures.Read(id), Axis = id is "axis-scale" or "backlash" ? AxisName.X : null };

    private static async Task<string[]> Told(MemoryJournal journal, string id)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var input = new StringReader("q\n");
        await new PlainFront(input, output, TextWriter.Null).RunAsync(ProcedureSession.Open(journal, Of(id)).Require(), TestContext.Current.CancellationToken);
        return output.ToString().Split('\n');
    }
}
