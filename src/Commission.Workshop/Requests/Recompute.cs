using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Readings;
using Commission.Core.Reports;
using Commission.Core.Upkeep;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Requests;

/// <summary>How a finding compares with what its readings give today.</summary>
public enum RecomputedAs
{
    /// <summary>The same, to 1e-9.</summary>
    Same,

    /// <summary>The same method gives something else: an alarm.</summary>
    Differs,

    /// <summary>A newer method gives something else: to be read.</summary>
    NewerDiffers,

    /// <summary>It cannot be computed again.</summary>
    Impossible,
}

/// <summary>A finding computed again.</summary>
/// <param name="Made">The entry of the finding.</param>
/// <param name="As">How it compares.</param>
/// <param name="Text">The comparison in words.</param>
public sealed record RecomputedFinding(Entered<EntryBody.FindingMade> Made, RecomputedAs As, string Text);

/// <summary>Computes the findings of a store again, from the readings and options they name, and compares them with what was shown then.</summary>
/// <param name="journal">The journal.</param>
/// <param name="kinds">Finds a kind of characteristic by id.</param>
public sealed class Recompute(IJournal journal, Func<string, CharacteristicKind?> kinds)
{
    // Relative; far above rounding, far below anything that is shown.
    private const double Same = 1e-9;

    /// <summary>Computes all findings that were not withdrawn.</summary>
    /// <param name="machine">The machine; null for all.</param>
    public ImmutableArray<RecomputedFinding> Run(string? machine)
    {
        var ledger = Ledger.From(journal.Entries());
        return [.. ledger.Findings.Values.Where(finding => finding.Counts && (machine is null || finding.Made.Body.Machine == machine)).Select(finding => One(ledger, finding.Made))];
    }

    // A fact that was corrected since is told whether or not the numbers can be computed again.
    private RecomputedFinding One(Ledger ledger, Entered<EntryBody.FindingMade> made) => Again(ledger, made) is var again && RestingFacts.Of(ledger, made) is { IsEmpty: false } lost && again.As is RecomputedAs.Impossible
        ? again with { Text = $"{again.Text}; {Told(lost)}" } : again;

    private static string Told(ImmutableArray<LostFact> lost) => string.Join("; ", lost.Select(one => one.Clause));

    private RecomputedFinding Again(Ledger ledger, Entered<EntryBody.FindingMade> made)
    {
        var before = made.Body.Finding;
        if (before.Method == KeptResult.AdoptedMethod)
            return new(made, RecomputedAs.Impossible, "adopted, not measured");
        if (kinds(before.Kind) is not { } kind)
            return new(made, RecomputedAs.Impossible, $"this version has no kind '{PlainText.Of(before.Kind)}'");
        var readings = made.Body.Readings.Select(sequence => ledger.Readings.GetValueOrDefault(sequence)).ToList();
        if (readings.Count == 0 || readings.Contains(null))
            return new(made, RecomputedAs.Impossible, "its readings are not in the journal");
        return kind.Evaluate(Table(made, readings!, kind, since: false), made.Body.Options).Match(
            now => Compare(made, now) is var again ? again with { Text = again.Text + (ledger.LeftOutSince(made).Any() ? Without(made, readings!, kind) : "") + AsDescribed(ledger, made, readings!, kind) } : again,
            problems => new RecomputedFinding(made, RecomputedAs.Differs, "today its readings give no finding: " + problems[0].What));
    }

    // The finding stands as it was made; what was left out since is told beside it.
    private static string Without(Entered<EntryBody.FindingMade> made, IReadOnlyList<ReadingRecord> readings, CharacteristicKind kind) =>
        kind.Evaluate(Table(made, readings, kind, since: true), made.Body.Options).Match(
            now => string.Create(CultureInfo.InvariantCulture, $"; without what was left out since, {now.Headline.Name} would be {now.Headline.Value:G10} {now.Headline.Unit}, where {made.Body.Finding.Headline.Value:G10} stands"),
            problems => "; without what was left out since there would be no finding: " + problems[0].What);

    // A fact that was corrected since changes no reading: what was said with it is said anew beside what stands.
    private static string AsDescribed(Ledger ledger, Entered<EntryBody.FindingMade> made, IReadOnlyList<ReadingRecord> readings, CharacteristicKind kind)
    {
        if (RestingFacts.Of(ledger, made) is not { IsEmpty: false } lost)
            return "";
        return $"; {Told(lost)}. As the machine is described now " + kind.Evaluate(Table(made, readings, kind, since: false), RestingFacts.Now(made.Body, ledger.Machines[made.Body.Machine!].Description)).Match(
            now => string.Create(CultureInfo.InvariantCulture, $"{now.Headline.Name} would be {now.Headline.Value:G10} {now.Headline.Unit}, {FindingWords.Of(now.Verdict)}, {FindingWords.Of(now.Advice.Action)}, where {made.Body.Finding.Headline.Value:G10}, {FindingWords.Of(made.Body.Finding.Verdict)}, {FindingWords.Of(made.Body.Finding.Advice.Action)} stands"),
            problems => "there would be no finding: " + problems[0].What);
    }

    private static RecomputedFinding Compare(Entered<EntryBody.FindingMade> made, Finding now)
    {
        var before = made.Body.Finding;
        var differences = before.Parameters.Select(then => (Then: then, Now: now.Parameter(then.Name)))
            .Where(pair => pair.Now is null || !Close(pair.Then.Value, pair.Now.Value) || !Close(pair.Then.StandardUncertainty, pair.Now.StandardUncertainty))
            .Select(pair => string.Create(CultureInfo.InvariantCulture, $"{pair.Then.Name} was {pair.Then.Value:G10} {pair.Then.Unit} and is {pair.Now?.Value:G10}"))
            .ToList();
        if (differences.Count == 0)
            return new(made, RecomputedAs.Same, "the same");
        return now.Method == before.Method
            ? new(made, RecomputedAs.Differs, $"alarm, same method {now.Method}, differs: {string.Join("; ", differences)}")
            : new(made, RecomputedAs.NewerDiffers, $"newer method, differs: {before.Method} then, {now.Method} now: {string.Join("; ", differences)}");
    }

    private static bool Close(double? one, double? other) => (one, other) switch
    {
        (null, null) => true,
        ({ } a, { } b) => a.Equals(b) || Math.Abs(a - b) <= Same * Math.Max(Math.Abs(a), Math.Abs(b)),
        _ => false,
    };

    // What was left out after the finding was made counted then.
    internal static ReadingTable Table(Entered<EntryBody.FindingMade> made, IReadOnlyList<ReadingRecord> readings, CharacteristicKind kind, bool since) =>
        KeptReading.Table(string.Create(CultureInfo.InvariantCulture, $"finding {made.Sequence}"), kind, readings.Select(reading => reading.Kept with
        {
            Excluded = reading.Standing switch
            {
                ReadingStanding.Excluded left when since || left.Entry < made.Sequence => left.Reason,
                ReadingStanding.Superseded old when since && old.Entry > made.Sequence => old.Reason,
                _ => null,
            },
            Instrument = reading.Taken.Body.Instrument == made.Body.Instrument ? null : reading.Taken.Body.Instrument,
        }));
}
