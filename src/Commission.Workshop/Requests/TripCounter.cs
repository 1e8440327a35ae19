using Commission.Core.Procedures;
using Commission.Workshop.Ports;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Requests;

/// <summary>
/// Counts false trips by itself while a step stands: looks at the link again and again, whatever else is done meanwhile. It sends nothing.
/// What it counted is kept in the journal within ten seconds of a trip or a hole, every five minutes, and where the counting ends: a run that is
/// taken up goes on from there. These times go by the clock, not by what was watched: a link often falls silent just after a trip.
/// </summary>
public sealed class TripCounter : IDisposable
{
    private static readonly TimeSpan Gap = TimeSpan.FromMilliseconds(200);

    // What a program that ends by itself may lose: it counts as not seen.
    private static readonly TimeSpan KeptEvery = TimeSpan.FromMinutes(5);

    // A wire that chatters writes no more than this often; what is not kept yet goes with the time that is not kept yet.
    private static readonly TimeSpan KeptAtMost = TimeSpan.FromSeconds(10);

    // What is counted and decided stands under the first and is soon told; what is written stands under the second, and one note follows the other.
    private readonly Lock gate = new();
    private readonly Lock keeping = new();
    private readonly CountTrips counting;
    private readonly Func<LinkSnapshot?> now;
    private readonly TimeProvider clock;
    private readonly ITripRecord record;
    private readonly ITimer timer;
    private TripWatch kept;
    private long keptAt;
    private bool settled;
    private bool ended;

    /// <summary>Begins to count, or goes on where the same run had counted before the program ended.</summary>
    /// <param name="now">What is known of the controller; null while no link is open, which leaves a hole.</param>
    /// <param name="clock">The clock.</param>
    /// <param name="record">Where the run that counts keeps it.</param>
    public TripCounter(Func<LinkSnapshot?> now, TimeProvider clock, ITripRecord record)
    {
        (this.now, this.clock, this.record, Since, keptAt) = (now, clock, record, clock.GetLocalNow(), clock.GetTimestamp());
        var before = record.CountSoFar();
        kept = before?.Watch ?? TripWatch.Begun;
        (counting, Taken, settled) = (new CountTrips(clock, kept), before is { Taken: true } ? kept : null, before is { Taken: true });
        Before = kept.Watched;
        timer = clock.CreateTimer(_ => Look(), null, TimeSpan.Zero, Gap);
    }

    /// <summary>When it began.</summary>
    public DateTimeOffset Since { get; }

    /// <summary>Time that was watched before it began, by a program that has ended.</summary>
    public TimeSpan Before { get; }

    /// <summary>Since when it counts, as the step that asks says it.</summary>
    public string Words => Before == TimeSpan.Zero
        ? FormattableString.Invariant($"The link counts since {Since:HH:mm}")
        : FormattableString.Invariant($"The link counts since {Since:HH:mm}, after {Before.TotalHours:0.##} h kept");

    /// <summary>What was counted when the hours were taken: the trips belong to just these hours. Null before.</summary>
    public TripWatch? Taken { get; private set; }

    /// <summary>Why the count could not be kept; null where it was.</summary>
    public string? NotKept { get; private set; }

    /// <summary>What was counted so far.</summary>
    public TripWatch Watch
    {
        get
        {
            lock (gate)
                return counting.Watch;
        }
    }

    /// <summary>The same counter where it has what a step asks for, else null: trips are its own only where the hours are. Hours that were typed have theirs typed too.</summary>
    /// <param name="what">What the step asks for.</param>
    public TripCounter? For(WatchCount what)
    {
        if (what == WatchCount.Hours)
        {
            lock (gate)
                settled = ended;
        }

        return what == WatchCount.Hours || Taken is not null ? this : null;
    }

    /// <summary>The number that a step asks for, and the words that are kept with it. The trips are those of the hours taken before.</summary>
    /// <param name="what">What the step asks for; trips only where <see cref="Taken"/> is not null.</param>
    public (double Value, string Words) Take(WatchCount what)
    {
        if (what == WatchCount.Hours)
            Settle(Watch);
        var watch = Taken ?? throw new InvalidOperationException("no hours were taken");
        return (watch.Of(what), watch.Words);
    }

    /// <summary>The number was typed: trips to come belong to the hours that were typed.</summary>
    /// <param name="what">What the step asked for.</param>
    public void Typed(WatchCount what)
    {
        if (what == WatchCount.Hours)
            Settle(null);
    }

    /// <summary>Ends the counting: what was not kept yet is kept, and nothing is kept any more when this returns.</summary>
    public void Dispose()
    {
        lock (keeping)
        {
            if (Rest() is { } rest)
                Keep(new TripNote(rest, Taken: false));
        }

        timer.Dispose();
    }

    // Kept before the hours are: a program that ends between the two still knows whose trips they are.
    private void Settle(TripWatch? taken)
    {
        lock (keeping)
        {
            lock (gate)
                (Taken, settled) = (taken, true);
            Keep(new TripNote(taken ?? Watch, taken is not null));
        }
    }

    private void Look()
    {
        if (now() is { } snapshot)
        {
            lock (gate)
                counting.Seen(snapshot, clock.GetUtcNow());
        }

        // What is shown meanwhile does not wait for the medium, and neither does the next look: it keeps what this one could not.
        if (!keeping.TryEnter())
            return;
        try
        {
            if (Due() is { } due)
                Keep(new TripNote(due, Taken: false));
        }
        finally
        {
            keeping.Exit();
        }
    }

    private TripWatch? Due()
    {
        lock (gate)
        {
            var (watch, since) = (counting.Watch, clock.GetElapsedTime(keptAt));
            if (settled || watch == kept || since < KeptAtMost || (since < KeptEvery && watch.Trips == kept.Trips && watch.Pieces <= Math.Max(1, kept.Pieces)))
                return null;
            (kept, keptAt) = (watch, clock.GetTimestamp());
            return watch;
        }
    }

    private TripWatch? Rest()
    {
        lock (gate)
        {
            var rest = settled || counting.Watch == kept ? null : counting.Watch;
            (settled, ended) = (true, true);
            return rest;
        }
    }

    private void Keep(TripNote note)
    {
        if (note.Words.Length > 0)
            NotKept = record.KeepCount(note).Match<string?>(_ => null, problems => problems[0].What);
    }
}
