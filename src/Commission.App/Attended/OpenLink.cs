using Commission.Workshop.Controllers;

namespace Commission.App.Attended;

/// <summary>The link that is open, if one is: a signal must reach it from anywhere.</summary>
internal sealed class OpenLink
{
    private volatile ControllerLink? link;

    /// <summary>The link; null where none is open.</summary>
    public ControllerLink? Link => link;

    /// <summary>Ctrl+C: over a link that is there to move the machine it is STOP, whether something moves or not.</summary>
    public void Interrupted()
    {
        if (attends)
            link?.Stop("Ctrl+C was pressed");
    }

    private volatile bool attends;

    /// <summary>Holds a link until the end of its use, and closes it then.</summary>
    /// <param name="opened">The link.</param>
    /// <param name="attended">Whether it is there to move the machine.</param>
    public IAsyncDisposable Hold(ControllerLink opened, bool attended = false)
    {
        (link, attends) = (opened, attended);
        return new Held(this, opened);
    }

    private sealed class Held(OpenLink place, ControllerLink opened) : IAsyncDisposable
    {
        public async ValueTask DisposeAsync()
        {
            await opened.DisposeAsync().ConfigureAwait(false);
            place.link = null;
        }
    }
}
