using Commission.Core.Procedures;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Requests;

/// <summary>Counts false trips by itself while a step stands: looks at the link again and again, whatever else is done meanwhile. It sends nothing.</summary>
public sealed class TripCounter : IDisposable
{
    private static readonly TimeSpan Gap = TimeSpan.FromMilliseconds(200);

    private readonly Lock gate = new();
    private readonly CountTrips counting;
    private readonly Func<LinkSnapshot?> now;
    private readonly TimeProvider clock;
    private readonly ITimer timer;

    /// <summary>Begins to count.</summary>
    /// <param name="now">What is known of the controller; null while no link is open, which leaves a hole.</param>
    /// <param name="clock">The clock.</param>
    public TripCounter(Func<LinkSnapshot?> now, TimeProvider clock)
    {
        (this.now, this.clock, counting, Since) = (now, clock, new CountTrips(clock), clock.GetLocalNow());
        timer = clock.CreateTimer(_ => Look(), null, TimeSpan.Zero, Gap);
    }

    /// <summary>When it began.</summary>
    public DateTimeOffset Since { get; }

    /// <summary>What was counted when the hours were taken: the trips belong to just these hours. Null before.</summary>
    public TripWatch? Taken { get; private set; }

    /// <summary>What was counted so far.</summary>
    public TripWatch Watch
    {
        get
        {
            lock (gate)
                return counting.Watch;
        }
    }

    /// <summary>The same counter where it has what a step asks for, else null: trips are its own only where the hours are. Hours that were typed, or taken before the program ended, have theirs typed too.</summary>
    /// <param name="what">What the step asks for.</param>
    public TripCounter? For(WatchCount what) => what == WatchCount.Hours || Taken is not null ? this : null;

    /// <summary>The number that a step asks for, and the words that are kept with it. The trips are those of the hours taken before.</summary>
    /// <param name="what">What the step asks for; trips only where <see cref="Taken"/> is not null.</param>
    public (double Value, string Words) Take(WatchCount what)
    {
        var watch = what == WatchCount.Hours ? Taken = Watch : Taken ?? throw new InvalidOperationException("no hours were taken");
        return (watch.Of(what), watch.Words);
    }

    /// <summary>The number was typed: trips to come belong to the hours that were typed.</summary>
    /// <param name="what">What the step asked for.</param>
    public void Typed(WatchCount what) => Taken = what == WatchCount.Hours ? null : Taken;

    /// <inheritdoc/>
    public void Dispose() => timer.Dispose();

    private void Look()
    {
        if (now() is not { } snapshot)
            return;
        lock (gate)
            counting.Seen(snapshot, clock.GetUtcNow());
    }
}
