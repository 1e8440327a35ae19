using Commission.Core.Machines;
using Commission.Core;
using Commission.Core.History;

namespace Commission.Workshop.Screens.Pages;

/// <content>The work under way, and the way back to it.</content>
public sealed partial class Desk
{
    /// <summary>
    /// Where the work under way goes on; null where there is none. Begun by hand, and a controller linked since, which may have restarted by
    /// that: it is taken up as after a sudden end, with the same questions, and goes on over the link.
    /// </summary>
    public Page? GoOn()
    {
        if (Link is not { IsOpen: true } || Running is not { Session.Run.Setting.Link: false } begun || Unfinished() is not { } left)
            return Running;
        EndWork();
        // Where nothing was read since it was taken up its questions stand answered: it goes on over the link.
        if (begun.TakenUpWith == begun.Session.Run.Readings.Length && Means.TakeUp!(left) is Outcome<IWorkSession>.Good { Value: var session })
            return _work = new RunPage(this, session) { TakenUpWith = begun.TakenUpWith };
        return new ResumePage(this, left);
    }

    /// <summary>Sequence of the run under way; null where none is.</summary>
    public long? RunningNumber => Running is null ? null : Unfinished()?.Sequence;

    /// <summary>Takes up a run that was left, and shows it.</summary>
    /// <param name="session">Its session.</param>
    /// <param name="overLink">Whether its moves were made over the link before.</param>
    public void GoOnWith(IWorkSession session, bool overLink)
    {
        _work = new RunPage(this, session) { TakenUpWith = session.Run.Readings.Length, WasOverLink = overLink };
        Show(_work);
    }

    // What has ended is in the log: nothing of it is to be gone on with.
    private Page Work() => GoOn() ?? new WorkListPage(this);

    // What was put aside on purpose waits on its route card. Where another program writes, the run that is open is its own and goes on there.
    private RunRecord? Unfinished() => Means.TakeUp is null || MachineName is null || Means.Journal.ReadOnlyReason is not null ? null : Ledger.Resumable(MachineName) is { Standing: RunStanding.Open } run ? run : null;

    /// <summary>Shows the route card of a procedure that was asked for by name. Where its run was left open the sheet about that stays.</summary>
    /// <param name="procedure">The procedure.</param>
    /// <param name="axis">The axis; null for the whole machine.</param>
    /// <param name="instrument">Name of the instrument that was asked for; null for that of the kit.</param>
    /// <param name="anew">Whether a new run begins all the same.</param>
    public void ShowFirst(Core.Procedures.Procedure procedure, AxisName? axis, string? instrument, bool anew)
    {
        if (Machine is null || (!anew && _page is ResumePage && WorkStates.Left(this, procedure, axis) is not null))
            return;
        Preferred = instrument;
        Show(new OverviewPage(this, procedure, axis) { Anew = anew });
    }
}
