using Commission.App.Plain;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;
using Commission.Core.Procedures;
using Commission.Practice.Controller;
using Commission.Tests;
using Commission.Workshop.Controllers;
using Commission.Workshop.Sessions;
using Microsoft.Extensions.Time.Testing;

namespace Commission.App.Tests.Plain;

/// <summary>A move that was confirmed question by question stands in the log before anything of it is sent, and is told after a sudden end.</summary>
public sealed class BegunMoveTests
{
    private const string Dialect = "numbered-settings";

    private readonly PracticeController board = new(ShippedDialects.Find(Dialect)!, new ControllerBody([420, 580, 90], [200, 300, 60]));

    [Fact]
    public async Task What_cannot_be_kept_is_not_sent()
    {
        await using var link = await LinkedAsync();
        var motion = new LinkMotion(link, () => CommissionedFacts.Heron, TimeProvider.System);
        var token = motion.Propose([]).Require();
        var told = "";
        var made = await motion.CarryOutAsync(token, words => { told = words; return new Core.Problem("the disk is full", "Make room"); }, TestContext.Current.CancellationToken);
        Assert.Equal("homing", told);
        Assert.Equal("the disk is full", Assert.IsType<Core.Outcome<string>.Bad>(made).Problems[0].What);
        Assert.Null(link.Now.Gate.Box);
        Assert.DoesNotContain("$H", board.Taken);
    }

    // The second in which the first byte must leave is not the store's.
    [Fact]
    public async Task What_the_store_took_long_to_keep_is_not_sent()
    {
        await using var link = await LinkedAsync();
        var clock = new FakeTimeProvider();
        var motion = new LinkMotion(link, () => CommissionedFacts.Heron, clock);
        using var journal = PlainFrontTests.Journal();
        var run = ProcedureSession.Open(journal, PlainFrontTests.Request(null)).Require().Run;
        var made = await motion.CarryOutAsync(motion.Propose([]).Require(), _ => { clock.Advance(TimeSpan.FromSeconds(1)); return run; }, TestContext.Current.CancellationToken);
        Assert.Contains("the store took long", Assert.IsType<Core.Outcome<string>.Bad>(made).Problems[0].What, StringComparison.Ordinal);
        Assert.Null(link.Now.Gate.Box);
        Assert.DoesNotContain("$H", board.Taken);
    }

    [Fact]
    public async Task What_was_entered_and_then_refused_is_not_under_way()
    {
        using var journal = PlainFrontTests.Journal();
        var bodies = await Moved(journal, new Core.Problem("nothing moved: typed before the box could be read", "Look at the prompt and type its words again"));
        Assert.Equal(["move begun: X to the right, 25 mm", EntryBody.Noted.NothingMoved], bodies.OfType<EntryBody.Noted>().Select(note => note.Text));
        Assert.Null(BegunMove.LeftOpen(journal, "Heron"));
    }

    [Fact]
    public async Task What_was_stopped_is_told_as_stopped()
    {
        using var journal = PlainFrontTests.Journal();
        await Moved(journal, new Core.Problem("stopped: a line was typed", "Read what happened") { IsFailure = true });
        Assert.Null(BegunMove.LeftOpen(journal, "Heron"));
        Assert.Contains(journal.Entries(), entry => entry.Body is EntryBody.Stopped);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task After_a_sudden_end_it_is_told_before_anything_else_in_this_run_or_another_one(bool same)
    {
        using var journal = PlainFrontTests.Journal();
        await Moved(journal, null);
        using var output = new StringWriter { NewLine = "\n" };
        using var input = new StringReader("q\n");
        var request = PlainFrontTests.Request(null);
        var session = ProcedureSession.Open(journal, same ? request : request with { Procedure = ShippedProcedures.Read("gauge-study"), Axis = null }).Require();
        await new PlainFront(input, output, TextWriter.Null).RunAsync(session, TestContext.Current.CancellationToken);
        var lines = output.ToString().Split('\n');
        var told = Array.FindIndex(lines, line => line.StartsWith("A move was begun at ", StringComparison.Ordinal));
        Assert.True(told >= 0, output.ToString());
        Assert.EndsWith(": X to the right, 25 mm. Its end is not in the log: where it stands is not known. Look at the machine first.", lines[told], StringComparison.Ordinal);
        Assert.True(told < Array.FindIndex(lines, line => line.StartsWith("ask ", StringComparison.Ordinal)));
    }

    // One confirmed move of a run: it fails, or the program ends in the middle of it.
    private static async Task<List<EntryBody>> Moved(MemoryJournal journal, Core.Problem? problem)
    {
        var session = ProcedureSession.Open(journal, PlainFrontTests.Request(null) with { Motion = new Ending(problem) }).Require();
        session.HazardsRead().Require();
        while (session.Needs is not Need.Motion)
            session.Confirm().Require();
        var ended = session.MoveAsync("go X+25", TestContext.Current.CancellationToken);
        if (problem is not null)
            await ended;
        return [.. journal.Entries().Select(entry => entry.Body)];
    }

    private async Task<ControllerLink> LinkedAsync()
    {
        var wire = new PracticeStream(board, TimeProvider.System, 40);
        var link = (await ControllerLink.OpenAsync(new StreamTransport(wire), ShippedDialects.Find(Dialect)!, CommissionedFacts.Heron, TimeProvider.System, TestContext.Current.CancellationToken)).Require();
        link.TellIdentity(true);
        Assert.True(await link.UntilAsync(now => now.Gate.State is TrustState.Locked or TrustState.Unreferenced, Patience.Longest, TimeProvider.System, TestContext.Current.CancellationToken));
        return link;
    }

    private sealed class Ending(Core.Problem? problem) : IMotion
    {
        public Core.Outcome<string> Propose(IReadOnlyList<Move> moves) => "go X+25";

        public Task<Core.Outcome<string>> CarryOutAsync(string token, Func<string, Core.Outcome<ProcedureRun>> begun, CancellationToken cancellation)
        {
            begun("X to the right, 25 mm").Require();
            return problem is null ? new TaskCompletionSource<Core.Outcome<string>>().Task : Task.FromResult<Core.Outcome<string>>(problem);
        }

        public void PowerChanged(bool drivesOn)
        {
        }
    }
}
