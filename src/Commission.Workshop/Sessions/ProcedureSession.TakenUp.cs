using System.Collections.Immutable;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Procedures;
using Commission.Workshop.Controllers;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Sessions;

/// <content>A run that is taken up again, and what is told before it goes on.</content>
public sealed partial class ProcedureSession
{
    /// <summary>The run as it was left; null where it begins now.</summary>
    public LeftRun? Left { get; private init; }

    /// <summary>The last move of the machine, where a sudden end left it under way; null where there is none.</summary>
    public BegunMove? UnderWay { get; private init; }

    private static Outcome<ProcedureSession> TakeUp(IJournal journal, SessionRequest request, RunRecord open, ProcedureRun fresh, ImmutableArray<JournalEntry> entries)
    {
        if (open.Started.Body.ProcedureHash != request.ProcedureHash)
        {
            return new Problem(
                $"an unfinished run of '{request.Procedure.Id}' was begun with another text of the procedure",
                "Start anew: its readings stay in the journal, but the plan they belong to has changed");
        }

        var own = entries.Where(entry => entry.Body.Run == open.Sequence).ToImmutableArray();
        // Nobody has watched the machine since: what was moved for the next reading is moved again.
        var run = SessionReplay.Replayed(fresh, own).After(new RunEvent.PositionLost());
        var session = new ProcedureSession(journal, request, open.Sequence, fresh, run)
        {
            Findings = [.. own.Select(entry => entry.Body).OfType<EntryBody.FindingMade>().Select(made => made.Finding)],
            told = Settled(fresh, open, entries),
            Left = LeftRun.Of(open, own),
            UnderWay = BegunMove.LeftOpen(journal, request.Machine.Name),
        };
        return session.Recovered(own).Then<ProcedureSession>(_ => session.AskedAbout() is { } bad ? new Outcome<ProcedureSession>.Bad(bad) : session);
    }

    /// <summary>What was answered when it was taken up again stands in the journal, and what follows from it: the run goes on.</summary>
    /// <param name="note">The answers, as they are kept.</param>
    /// <param name="byHand">Whether its moves are no longer made over the link.</param>
    /// <param name="ownZero">Whether readings from here on have a zero of their own.</param>
    public Outcome<ProcedureRun> GoOn(string note, bool byHand, bool ownZero)
    {
        foreach (var said in byHand ? (ReadOnlySpan<string>)[note, EntryBody.Noted.ByHand] : [note])
        {
            if (Append(new EntryBody.Noted(null, said)) is Outcome<JournalEntry>.Bad bad)
                return new Outcome<ProcedureRun>.Bad(bad.Problems);
        }

        return ownZero ? SetUpDisturbed() : Run;
    }
}
