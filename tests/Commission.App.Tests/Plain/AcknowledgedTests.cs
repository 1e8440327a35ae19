using Commission.App.Plain;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;
using Commission.Practice.Controller;
using Commission.Practice.Machines;
using Commission.Tests;
using Commission.Workshop.Controllers;
using Commission.Workshop.Sessions;
using Microsoft.Extensions.Time.Testing;

namespace Commission.App.Tests.Plain;

/// <summary>What took trust away is read before anything moves, by question and answer too: an answer covers what was written before it and no more.</summary>
public sealed class AcknowledgedTests
{
    [Theory]
    [InlineData("yes")]
    [InlineData("y")]
    [InlineData("S")]
    public async Task What_happens_between_question_and_answer_is_asked_about_before_it_counts_as_read(string yes)
    {
        using var journal = new MemoryJournal(StoreNature.Real, "real", "test", new FakeTimeProvider());
        await using var link = await LinkedAsync();
        var motion = new LinkMotion(link, () => CommissionedFacts.Heron, TimeProvider.System);
        link.LoseTrust("the bed was pushed");

        using var output = new StringWriter();
        using var typed = new Answers(output, () => link.LoseTrust("the gantry was pushed"), yes);
        var session = ProcedureSession.Open(journal, new SessionRequest
        {
            Procedure = ShippedProcedures.Read("axis-scale"), ProcedureHash = "h1", Machine = HeronMachine.Description, Axis = AxisName.X, Motion = motion,
            Instrument = Invented.Caliper,
        }).Require();
        await new PlainFront(typed, output, TextWriter.Null).RunAsync(session, TestContext.Current.CancellationToken);
        var asked = output.ToString().Split('\n').Where(line => line.Contains("Stopped: ", StringComparison.Ordinal)).ToArray();
        Assert.True(asked.Length == 2, output.ToString());
        Assert.Contains("Stopped: the bed was pushed. ", asked[0], StringComparison.Ordinal);
        Assert.Contains("Stopped: the bed was pushed; then the gantry was pushed. ", asked[1], StringComparison.Ordinal);
        // Found in review: this run holds the store, so nothing else can be told while it goes on.
        Assert.EndsWith("tell it after this run: commission history change crash.", asked[0], StringComparison.Ordinal);
        Assert.Null(motion.Trouble);
    }

    // To a board that answers, until the gate knows how it stands.
    private static async Task<ControllerLink> LinkedAsync()
    {
        var dialect = ShippedDialects.Find("numbered-settings")!;
        var wire = new PracticeStream(new PracticeController(dialect, new ControllerBody([420, 580, 90], [200, 300, 60])), TimeProvider.System, 40);
        var link = (await ControllerLink.OpenAsync(new StreamTransport(wire), dialect, CommissionedFacts.Heron, TimeProvider.System, TestContext.Current.CancellationToken)).Require();
        link.TellIdentity(true);
        Assert.True(await link.UntilAsync(now => now.Gate.State is TrustState.Locked or TrustState.Unreferenced, Patience.Longest, TimeProvider.System, TestContext.Current.CancellationToken));
        return link;
    }

    // Found in review: the screens ask what was seen, question and answer asked for a yes and knew of no crash.
    [Theory]
    [InlineData("a", "a false alarm", false)]
    [InlineData("s", "something was hit, jammed or sounded wrong", true)]
    [InlineData("yes", "not known", true)]
    public async Task After_STOP_it_is_asked_what_was_seen_and_kept_as_on_the_screens(string typed, string kept, bool crash)
    {
        using var journal = new MemoryJournal(StoreNature.Real, "real", "test", new FakeTimeProvider());
        await using var link = await LinkedAsync();
        var motion = new LinkMotion(link, () => CommissionedFacts.Heron, TimeProvider.System);
        link.Stop("a line was typed while the machine moved");

        using var output = new StringWriter();
        using var answers = new Answers(output, () => { }, typed);
        var session = ProcedureSession.Open(journal, new SessionRequest
        {
            Procedure = ShippedProcedures.Read("axis-scale"), ProcedureHash = "h1", Machine = HeronMachine.Description, Axis = AxisName.X, Motion = motion,
            Instrument = Invented.Caliper,
        }).Require();
        await new PlainFront(answers, output, TextWriter.Null).RunAsync(session, TestContext.Current.CancellationToken);
        Assert.Contains("ask choose scale: Stopped: a line was typed while the machine moved", output.ToString(), StringComparison.Ordinal);
        var bodies = journal.Entries().Select(entry => entry.Body).ToList();
        Assert.Equal(kept, bodies.OfType<EntryBody.Stopped>().Last(stopped => stopped.Answer is not null).Answer);
        Assert.Equal(crash, bodies.OfType<EntryBody.ChangeTold>().Any(told => told.Change == "crash"));
        // The board may have restarted only then, which is asked about by itself.
        Assert.DoesNotContain("a line was typed", motion.Trouble ?? "", StringComparison.Ordinal);
    }

    /// <summary>Says yes to everything but a move; something happens while it reads for the first time why nothing moves.</summary>
    private sealed class Answers(StringWriter seen, Action meanwhile, string afterStop = "yes") : TextReader
    {
        private bool _happened;

        public override string? ReadLine()
        {
            var asked = seen.ToString().TrimEnd('\n').Split('\n')[^1];
            if (!_happened && asked.Contains("Stopped: ", StringComparison.Ordinal))
            {
                _happened = true;
                meanwhile();
            }

            return asked.StartsWith("ask motion", StringComparison.Ordinal) ? null : asked.Contains("Stopped: ", StringComparison.Ordinal) ? afterStop : "yes";
        }
    }
}
