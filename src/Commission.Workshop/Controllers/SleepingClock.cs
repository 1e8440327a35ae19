using Commission.Core.Motion;

namespace Commission.Workshop.Controllers;

/// <summary>
/// Instants of the gate: the monotonic clock, and what it did not count while the computer slept, which the wall clock tells. Whoever looks
/// first after the sleep sees it, the writing thread too: what was confirmed before is void. Looking waits for nobody.
/// </summary>
internal sealed class SleepingClock
{
    private readonly TimeProvider time;
    private readonly long began;
    private Pair compared;

    /// <param name="time">Both clocks.</param>
    public SleepingClock(TimeProvider time)
    {
        this.time = time;
        began = time.GetTimestamp();
        compared = new(began, time.GetUtcNow(), TimeSpan.Zero);
    }

    private sealed record Pair(long Monotonic, DateTimeOffset Wall, TimeSpan Slept);

    /// <summary>Time since the beginning.</summary>
    public TimeSpan Now => time.GetElapsedTime(began, Look(MotionTable.LongestGap).Monotonic) + compared.Slept;

    /// <summary>Compares the clocks anew, so that a wall clock that is set bit by bit never adds up to a sleep.</summary>
    public void Compare() => Look(TimeSpan.MinValue);

    private Pair Look(TimeSpan keptWithin)
    {
        var seen = Volatile.Read(ref compared);
        var now = new Pair(time.GetTimestamp(), time.GetUtcNow(), seen.Slept);
        var hidden = now.Wall - seen.Wall - time.GetElapsedTime(seen.Monotonic, now.Monotonic);
        if (hidden > MotionTable.LongestGap)
            now = now with { Slept = seen.Slept + hidden };
        if (hidden > keptWithin)
            Interlocked.CompareExchange(ref compared, now, seen);
        return now;
    }
}
