using System.Collections.Immutable;
using Commission.Core.History;
using Commission.Core.Quantities;
using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>What is said of a finding that still contains a reading which was left out later.</summary>
public static class LeftOutText
{
    /// <summary>The sentence.</summary>
    /// <param name="ledger">The ledger that holds it.</param>
    /// <param name="reading">Sequence of the reading.</param>
    /// <param name="entry">Sequence of the entry that left it out or replaced it.</param>
    /// <param name="reason">Why.</param>
    /// <param name="units">Units to show it in; millimetres where not told.</param>
    public static string Of(Ledger ledger, long reading, long entry, string reason, ShownUnits? units = null) =>
        Invariant($"computed before {ReadingName.Of(ledger.Readings[reading].Taken.Body, subject: null, units)}, was left out (entry {entry}: {reason}), and still contains it; 'history recompute' tells the value without it, a new run takes its place");

    /// <summary>The same in a line of a table of many results; its finding tells the rest.</summary>
    /// <param name="entries">Sequences of the entries that left readings out or replaced them.</param>
    public static string Short(ImmutableArray<long> entries) => entries.Length == 1
        ? Invariant($"still contains a reading that entry {entries[0]} left out; measure it again.")
        : Invariant($"still contains {entries.Length} readings that were left out later; measure it again.");
}
