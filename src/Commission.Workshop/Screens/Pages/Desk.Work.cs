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
        if (Link is not { IsOpen: true } || Running is not { Session.Run.Setting.Link: false } || Unfinished() is not { } left)
            return Running;
        EndWork();
        return new ResumePage(this, left);
    }

    // What has ended is in the log: nothing of it is to be gone on with.
    private Page Work() => GoOn() ?? new WorkListPage(this);

    // What was put aside on purpose waits on its route card. Where another program writes, the run that is open is its own and goes on there.
    private RunRecord? Unfinished() => Means.TakeUp is null || MachineName is null || Means.Journal.ReadOnlyReason is not null ? null : Ledger.Resumable(MachineName) is { Standing: RunStanding.Open } run ? run : null;
}
