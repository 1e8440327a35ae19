using Commission.Workshop.Requests;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Screens.Pages;

/// <content>False trips, counted for the step that asks for them, and the end of the link with its counting.</content>
public sealed partial class DeskLink
{
    private (ITripRecord Run, TripCounter Counter)? _counting;

    /// <summary>Counts trips for a run from its first question on; a hole where the link is closed meanwhile.</summary>
    /// <param name="run">The run.</param>
    public TripCounter CountFor(ITripRecord run)
    {
        if (_counting is { } now && now.Run == run)
            return now.Counter;
        EndCounting();
        var counter = new TripCounter(() => Now, desk.Means.Clock, run);
        _counting = (run, counter);
        return counter;
    }

    /// <summary>Ends the counting: the run ends or is put aside, or what is told next begins another count.</summary>
    public void EndCounting()
    {
        _counting?.Counter.Dispose();
        _counting = null;
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync()
    {
        EndCounting();
        return _link?.DisposeAsync() ?? ValueTask.CompletedTask;
    }
}
