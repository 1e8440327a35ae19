using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>What is said of a finding that still contains a reading which was left out later.</summary>
public static class LeftOutText
{
    /// <summary>The sentence.</summary>
    /// <param name="reading">Sequence of the reading.</param>
    /// <param name="entry">Sequence of the entry that left it out or replaced it.</param>
    /// <param name="reason">Why.</param>
    public static string Of(long reading, long entry, string reason) =>
        Invariant($"computed before reading {reading} was left out (entry {entry}: {reason}), and still contains it; 'history recompute' tells the value without it, a new run takes its place");
}
