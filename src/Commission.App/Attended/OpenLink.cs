using Commission.Workshop.Controllers;

namespace Commission.App.Attended;

/// <summary>The link that is open, if one is: a signal must reach it from anywhere.</summary>
internal sealed class OpenLink
{
    private volatile ControllerLink? link;

    /// <summary>The link; null where none is open.</summary>
    public ControllerLink? Link => link;

    /// <summary>Holds a link until the end of its use, and closes it then.</summary>
    public IAsyncDisposable Hold(ControllerLink opened)
    {
        link = opened;
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
