using System.Collections.Immutable;
using Commission.Core.History;
using Commission.Core.Instruments;
using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>What a report says about the instruments: each as it was described when findings used it, what it was checked with since, and the hand studies.</summary>
internal static class InstrumentSection
{
    private readonly record struct Use(Instrument Instrument, Entered<EntryBody.InstrumentDescribed>? Described, long Finding);

    /// <summary>The section.</summary>
    /// <param name="ledger">The ledger up to the instant of the report.</param>
    /// <param name="scope">What it tells of.</param>
    /// <param name="findings">The findings that are shown.</param>
    public static ReportSection Of(Ledger ledger, ReportScope scope, IEnumerable<FindingRecord> findings)
    {
        var uses = findings.Where(finding => finding.Made.Body.Options.Instrument is not null)
            .Select(finding => Used(ledger, finding.Made.Body.Options.Instrument!, finding.Sequence)).ToLookup(use => use.Instrument.Name);
        ImmutableArray<string> lines =
        [
            .. uses.OrderBy(same => same.Key, StringComparer.Ordinal).SelectMany(same => Lines(ledger, same.Key, [.. same])),
            .. ledger.Studies.Where(study => uses.Contains(study.Body.Study.Instrument)).Select(study => Invariant($"{EntryText.What(study.Body)}, of {WallCard.Day(study.At)}, entry {study.Sequence}")),
        ];
        return new ReportSection("Instruments", 1, [new ReportBlock.Items([.. lines.Select(scope.Units.Told)])]);
    }

    // The description that stood when the finding was made.
    private static Use Used(Ledger ledger, Instrument instrument, long finding) => new(
        instrument, ledger.InstrumentVersions.FindLast(version => version.Sequence < finding && version.Body is { Retired: false, Description: var described } && described == instrument), finding);

    private static IEnumerable<string> Lines(Ledger ledger, string name, List<Use> uses)
    {
        var last = uses.Max(use => use.Described?.Sequence ?? 0);
        var used = uses.GroupBy(use => (use.Instrument, use.Described?.Sequence)).OrderBy(same => same.Key.Sequence ?? 0)
            .SelectMany(same => Line(ledger, same.First().Instrument, same.First().Described, Invariant($"; {Findings(same.Count())} here, the last of entry {same.Max(use => use.Finding)}")));
        var since = ledger.InstrumentVersions.Where(version => version.Body.Description.Name == name && version.Sequence > last)
            .SelectMany(version => version.Body.Retired
                ? [Invariant($"{name}: out of use since {WallCard.Day(version.At)}, entry {version.Sequence}")]
                : Line(ledger, version.Body.Description, version, "; no finding here rests on this description"));
        return used.Concat(since);
    }

    private static string Findings(int count) => count == 1 ? "1 finding rests on it" : Invariant($"{count} findings rest on it");

    private static IEnumerable<string> Line(Ledger ledger, Instrument instrument, Entered<EntryBody.InstrumentDescribed>? described, string used)
    {
        var when = described is null ? "not described in this store" : Invariant($"described on {WallCard.Day(described.At)}, entry {described.Sequence}");
        yield return $"{InstrumentText.Line(instrument, retired: false)}; {when}{used}";
        foreach (var note in ledger.Notes.Where(note => described is not null && note.Body.About == described.Sequence))
            yield return $"{instrument.Name}, check of entry {Invariant($"{described!.Sequence}")}: {note.Body.Text}";
    }
}
