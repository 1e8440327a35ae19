using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.History;
using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>Makes the report of two dates compared: what was found then and now, and whether the difference is larger than its uncertainty.</summary>
public static class ComparisonReport
{
    /// <summary>The report.</summary>
    /// <param name="before">The ledger up to the earlier instant.</param>
    /// <param name="earlier">What it tells of.</param>
    /// <param name="after">The ledger up to the later instant.</param>
    /// <param name="later">What it tells of.</param>
    public static Report Build(Ledger before, ReportScope earlier, Ledger after, ReportScope later)
    {
        var between = new EntryRange(earlier.Entries, later.Entries);
        var (then, now) = Instants(earlier.AsOf, later.AsOf);
        var (older, newer) = (ReportBuilder.Latest(before, earlier), ReportBuilder.Latest(after, later));
        List<long> both = [.. older.Select(finding => finding.Sequence).Intersect(newer.Select(finding => finding.Sequence))];
        return new Report
        {
            Title = $"{later.Machine.Name}: {then} against {now}",
            AsOf = later.AsOf,
            Practice = after.Born?.Body.Nature == StoreNature.Practice,
            Sections = ReportBuilder.Filled(
            [
                new ReportSection("What differs", 1,
                [
                    new ReportBlock.Paragraph($"State as of {then} against {now}. Where both results were read with the same instrument, the uncertainty they share falls out of the difference. Both states follow in full, the later one first; a finding that counts in both is told once, with the later one."),
                    Differences(older, newer, after, later),
                ]),
                Happened(before, after, later, between),
                SettingsSections.Changes(after, later, between) with { Title = "Changes and settings between" },
                CheckSections.Of(after, later, Checks(after, later, between)) with { Title = "Checks between" },
                .. Dated(ReportBuilder.State(after, later, []), now),
                .. Dated(ReportBuilder.State(before, earlier, both), then),
            ]),
        };
    }

    // To the minute; to the second where two instants of one minute are told apart.
    private static (string Then, string Now) Instants(DateTimeOffset then, DateTimeOffset now)
    {
        var (a, b) = (Invariant($"{then:yyyy-MM-dd HH:mm zzz}"), Invariant($"{now:yyyy-MM-dd HH:mm zzz}"));
        return a != b ? (a, b) : (Invariant($"{then:yyyy-MM-dd HH:mm:ss zzz}"), Invariant($"{now:yyyy-MM-dd HH:mm:ss zzz}"));
    }

    private static IEnumerable<ReportSection> Dated(ImmutableArray<ReportSection> sections, string instant) => sections.Select(section => section with { Title = $"{section.Title}, as of {instant}" });

    private static ReportBlock.Table Differences(List<FindingRecord> then, List<FindingRecord> now, Ledger after, ReportScope later)
    {
        var pairs = now.Select(finding => (Now: (FindingRecord?)finding, Then: then.Find(other => Key(other) == Key(finding))))
            .Concat(then.Where(finding => now.TrueForAll(other => Key(other) != Key(finding))).Select(finding => (Now: (FindingRecord?)null, Then: (FindingRecord?)finding)));
        return new ReportBlock.Table(
            "difference",
            ["characteristic", "axis", "place", "then", "U then", "k then", "now", "U now", "k now", "difference", "U of it", "k of it", "unit", "what that says", "entries"],
            [.. pairs.Select(pair => Row(pair.Then, pair.Now, after, later))]);
    }

    // What took a result away, and what was left out: neither shows in a table of results.
    private static ReportSection Happened(Ledger before, Ledger after, ReportScope later, EntryRange between)
    {
        var name = later.Machine.Name;
        return new ReportSection("What happened between", 1,
        [
            new ReportBlock.Items(
            [
                .. after.Findings.Values.Where(finding => finding.Made.Body.Machine == name && finding.Withdrawn is { } withdrawn && between.Holds(withdrawn.Sequence))
                    .Select(finding => Invariant($"Withdrawn: {FindingSections.Title(finding.Made.Body)}, finding of entry {finding.Sequence}: {finding.Withdrawn!.Body.Reason} (entry {finding.Withdrawn.Sequence})")),
                .. after.OpenSkips.Where(skip => skip.Made.Body.Machine == name && between.Holds(skip.Made.Sequence))
                    .Select(skip => Invariant($"Skipped and still open: {skip.Words} ({skip.Made.Body.Reason}), entry {skip.Made.Sequence}")),
                .. before.OpenSkips.Where(skip => skip.Made.Body.Machine == name && after.OpenSkips.TrueForAll(other => other.Made.Sequence != skip.Made.Sequence))
                    .Select(skip => Invariant($"Made good: {skip.Words}, skipped in entry {skip.Made.Sequence} ({skip.Made.Body.Reason})")),
            ]),
        ]);
    }

    // The last one passed and the last one failed of each check: what a long journal keeps at hand.
    private static IEnumerable<Entered<EntryBody.Checked>> Checks(Ledger after, ReportScope later, EntryRange between) => after.Checks
        .Where(check => check.Body.Machine == later.Machine.Name).GroupBy(check => (after.KeyOf(check.Body), check.Body.Passed)).Select(same => same.Last())
        .Where(check => between.Holds(check.Sequence)).OrderBy(check => check.Body.Passed).ThenBy(check => check.Sequence);

    private static (string, string?, string?) Key(FindingRecord finding) => (finding.Made.Body.Characteristic, finding.Made.Body.Axis, finding.Made.Body.Place);

    private static ImmutableArray<ReportCell> Row(FindingRecord? then, FindingRecord? now, Ledger after, ReportScope scope)
    {
        var made = (now ?? then)!.Made.Body;
        var old = then is null ? Nothing : FindingSections.Headline(then.Made.Body.Finding, scope.Units);
        var fresh = now is null ? Nothing : FindingSections.Headline(now.Made.Body.Finding, scope.Units);
        var (difference, expanded, factor, says) = Difference(then, now, after, scope);
        return
        [
            CharacteristicKinds.TitleOf(made.Characteristic), made.Axis ?? "", made.Place ?? "",
            old.Value, FindingSections.Short(old), old.Factor, fresh.Value, FindingSections.Short(fresh), fresh.Factor, difference, expanded, factor, now is null ? old.Unit : fresh.Unit, says,
            Invariant($"{(then is null ? "" : Invariant($"{then.Sequence}"))} / {(now is null ? "" : Invariant($"{now.Sequence}"))}"),
        ];
    }

    private static string Gone(FindingRecord then, Ledger after) => after.Findings.GetValueOrDefault(then.Sequence)?.Withdrawn is { } withdrawn
        ? Invariant($"withdrawn: {withdrawn.Body.Reason} (entry {withdrawn.Sequence})") : "does not count any more";

    private static FindingSections.Cells Nothing { get; } = new("none", "", "", "");

    private static (ReportCell Difference, ReportCell Expanded, ReportCell Factor, string Says) Difference(FindingRecord? then, FindingRecord? now, Ledger after, ReportScope scope)
    {
        if (then is null || now is null)
            return ("", "", "", then is null ? "not known then" : Gone(then, after));
        if (then.Sequence == now.Sequence)
            return ("", "", "", "the same finding");
        var (a, b) = (Signs.Told(then.Made.Body.Finding.Headline), Signs.Told(now.Made.Body.Finding.Headline));
        if (a.Value is not { } old || b.Value is not { } value)
            return ("", "", "", "one of them has no value");
        var unit = FindingText.UnitOf(b, scope.Units);
        if (Uncertainty(then.Made.Body, now.Made.Body) is not var (u, k))
            return (new ReportCell(Quantities.ValueFormat.Pair((value - old) / unit.Factor, null).Value, IsNumber: true), "none", "", "cannot be said without an uncertainty of both");
        var (shown, expanded) = Quantities.ValueFormat.Pair((value - old) / unit.Factor, u / unit.Factor);
        return (new ReportCell(shown, IsNumber: true), new ReportCell(expanded ?? "0", IsNumber: true), FindingSections.Number(k, "0.00"), Math.Abs(value - old) > u ? "differs by more than U" : "no difference beyond U");
    }

    // The larger coverage factor covers both; what one instrument does to both results alike is not counted twice.
    private static (double Expanded, double Factor)? Uncertainty(EntryBody.FindingMade then, EntryBody.FindingMade now)
    {
        var (a, b) = (then.Finding.Headline, now.Finding.Headline);
        if (a is not { StandardUncertainty: { } ua, CoverageFactor: { } ka } || b is not { StandardUncertainty: { } ub, CoverageFactor: { } kb })
            return null;
        var shared = then.Instrument is { } instrument && instrument == now.Instrument && a.SharedUncertainty is not null && b.SharedUncertainty is not null;
        var (fa, fb) = shared ? (a.FreshUncertainty ?? 0, b.FreshUncertainty ?? 0) : (ua, ub);
        return (Math.Max(ka, kb) * Math.Sqrt((fa * fa) + (fb * fb)), Math.Max(ka, kb));
    }
}

/// <summary>Entries after one and up to another, by sequence.</summary>
/// <param name="After">The last one before the range.</param>
/// <param name="UpTo">The last one in it.</param>
internal readonly record struct EntryRange(long After, long UpTo)
{
    /// <summary>Every entry.</summary>
    public static EntryRange All { get; } = new(0, long.MaxValue);

    /// <summary>Whether an entry lies in it.</summary>
    public bool Holds(long sequence) => sequence > After && sequence <= UpTo;
}
