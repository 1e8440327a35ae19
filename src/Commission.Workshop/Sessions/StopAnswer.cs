namespace Commission.Workshop.Sessions;

/// <summary>What was seen when STOP was sent, as the operator tells it.</summary>
/// <param name="Key">The letter that says it.</param>
/// <param name="Words">As the log keeps it.</param>
/// <param name="Crash">Whether all results become suspect by it.</param>
public sealed record StopAnswer(char Key, string Words, bool Crash)
{
    /// <summary>Nothing touched anything.</summary>
    public static StopAnswer FalseAlarm { get; } = new('A', "a false alarm", Crash: false);

    /// <summary>Something was hit, jammed or sounded wrong.</summary>
    public static StopAnswer Crashed { get; } = new('S', "something was hit, jammed or sounded wrong", Crash: true);

    /// <summary>Nobody knows: treated like a crash.</summary>
    public static StopAnswer NotKnown { get; } = new('O', "not known", Crash: true);

    /// <summary>All three, in the order in which they are asked.</summary>
    public static IReadOnlyList<StopAnswer> All { get; } = [FalseAlarm, Crashed, NotKnown];

    /// <summary>What goes into the log: the STOP with its answer, and a crash where it was one or may have been.</summary>
    /// <param name="why">What stopped it.</param>
    public IEnumerable<Core.History.EntryBody> Entries(string why)
    {
        yield return new Core.History.EntryBody.Stopped(why, Words);
        if (Crash)
            yield return new Core.History.EntryBody.ChangeTold("crash", null, "after STOP: " + Words);
    }
}
