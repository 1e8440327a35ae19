using System.Diagnostics;

namespace Commission.Proof.Link;

/// <summary>A clock that runs faster than the wall's, and can leap: the computer slept.</summary>
internal sealed class ScaledTime(double scale) : TimeProvider
{
    private readonly long began = Stopwatch.GetTimestamp();
    private readonly DateTimeOffset born = DateTimeOffset.UnixEpoch;
    private long leapt;
    private long leaptUnseen;

    /// <summary>The computer slept. A monotonic clock may count that time or not; the wall's always does.</summary>
    public void Sleep(TimeSpan time, bool monotonicStandsStill)
    {
        Interlocked.Add(ref leaptUnseen, monotonicStandsStill ? time.Ticks : 0);
        Interlocked.Add(ref leapt, monotonicStandsStill ? 0 : time.Ticks);
    }

    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    public override long GetTimestamp() =>
        (long)(Stopwatch.GetElapsedTime(began).Ticks * scale) + Interlocked.Read(ref leapt);

    public override DateTimeOffset GetUtcNow() => born.AddTicks(GetTimestamp() + Interlocked.Read(ref leaptUnseen));

    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period) =>
        System.CreateTimer(callback, state, Scaled(dueTime), Scaled(period));

    private TimeSpan Scaled(TimeSpan time) => time <= TimeSpan.Zero ? time : time / scale;
}
