using Commission.Core.History;

namespace Commission.Adapters.Storage;

/// <summary>Finds in the journal what a report prints beside the present: withdrawn findings, and the readings behind the findings in force or of one run, with what became of them.</summary>
/// <param name="documents">The index.</param>
/// <param name="journal">The journal.</param>
/// <param name="at">Sequence of the last entry that is told of.</param>
internal sealed class EntriesBehind(IndexDocuments documents, JournalFolder journal, long at)
{
    private readonly SortedDictionary<long, JournalEntry> known = [];

    /// <summary>The entries in order; null where the machine has no such run.</summary>
    /// <param name="machine">The machine.</param>
    /// <param name="run">The run reported on; null for the findings in force.</param>
    /// <param name="present">What bears on the present.</param>
    internal IEnumerable<JournalEntry>? Of(string machine, long? run, IEnumerable<JournalEntry> present)
    {
        foreach (var entry in present)
            known[entry.Sequence] = entry;
        foreach (var withdrawn in documents.Withdrawn(machine, at))
            Take(withdrawn);
        if (run is { } number)
            return Run(machine, number) ? Behind([.. known.Values.Where(entry => entry.Body.Run == number).Select(entry => entry.Body).OfType<EntryBody.FindingMade>()]) : null;
        List<EntryBody.FindingMade> inForce = [.. Ledger.From(known.Values).FindingsInForce(machine).Select(finding => finding.Made.Body)];
        foreach (var one in inForce.Select(finding => finding.Run).OfType<long>().Distinct())
            Run(machine, one);
        return Behind(inForce);
    }

    /// <summary>The entries that leave readings out or put others in their place, wherever they stand.</summary>
    /// <param name="entries">The readings, among others.</param>
    internal List<JournalEntry> MarksOn(IEnumerable<JournalEntry> entries)
    {
        var readings = entries.Where(entry => entry.Body is EntryBody.ReadingTaken).Select(entry => entry.Sequence).ToHashSet();
        return [.. Spans(readings).SelectMany(span => documents.Marks(span.First, span.Last)).Where(mark => mark.Entry <= at && readings.Contains(mark.Reading)).Select(mark => Entry(mark.Entry)).OfType<JournalEntry>()];
    }

    private bool Run(string machine, long run)
    {
        if (run > at || documents.Span(machine, run) is not var (first, last))
            return false;
        foreach (var entry in journal.EntriesOfRun(first, Math.Min(last, at)))
            known[entry.Sequence] = entry;
        return true;
    }

    // Readings outside the runs, and what was said of any reading outside its run.
    private SortedDictionary<long, JournalEntry>.ValueCollection Behind(List<EntryBody.FindingMade> findings)
    {
        foreach (var reading in findings.SelectMany(finding => finding.Readings.IsDefault ? [] : finding.Readings))
            Take(reading);
        foreach (var mark in MarksOn(known.Values))
            known.TryAdd(mark.Sequence, mark);
        return known.Values;
    }

    private void Take(long sequence)
    {
        if (!known.ContainsKey(sequence) && Entry(sequence) is { } entry)
            known[sequence] = entry;
    }

    private JournalEntry? Entry(long sequence) => journal.LineOf(sequence) is { } line ? LedgerIndex.Entry(line) : null;

    // Readings of one run lie together: one question for each such stretch.
    private static IEnumerable<(long First, long Last)> Spans(IEnumerable<long> sequences)
    {
        const long near = 1000;
        (long First, long Last)? span = null;
        foreach (var sequence in sequences.Order())
        {
            if (span is var (first, last) && sequence - last <= near)
            {
                span = (first, sequence);
                continue;
            }

            if (span is { } done)
                yield return done;
            span = (sequence, sequence);
        }

        if (span is { } rest)
            yield return rest;
    }
}
