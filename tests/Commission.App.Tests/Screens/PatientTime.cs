namespace Commission.App.Tests.Screens;

/// <summary>
/// The wall's clock for a link that lives in real time, which stands still while a busy computer lets nobody run: between two looks at it no more
/// passes than a link is used to. So a second without an answer is one in which the link ran and nobody answered.
/// </summary>
internal sealed class PatientTime : TimeProvider
{
    private static readonly long Longest = TimeSpan.FromMilliseconds(25).Ticks;

    private readonly Lock turn = new();
    private readonly DateTimeOffset born = System.GetUtcNow();
    private long seen = System.GetElapsedTime(0).Ticks;
    private long passed;

    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    public override long GetTimestamp()
    {
        lock (turn)
        {
            var now = System.GetElapsedTime(0).Ticks;
            passed += Math.Clamp(now - seen, 0, Longest);
            seen = now;
            return passed;
        }
    }

    public override DateTimeOffset GetUtcNow() => born.AddTicks(GetTimestamp());
}
