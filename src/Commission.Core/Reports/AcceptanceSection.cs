using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Upkeep;
using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>The machine against its class of work: the worst corner first, then every result with a limit, what limits it and what improves it.</summary>
internal static class AcceptanceSection
{
    private static readonly ImmutableArray<string> Headers =
        ["checked", "axis", "place", "value", "U", "unit", "k", "limit", "limit from", "verdict", "what limits the result", "cheapest improvement"];

    /// <summary>The section.</summary>
    /// <param name="ledger">The ledger.</param>
    /// <param name="scope">What the report tells of.</param>
    /// <param name="latest">The findings that count.</param>
    public static ReportSection Of(Ledger ledger, ReportScope scope, IReadOnlyList<FindingRecord> latest)
    {
        const string title = "Against the class of work";
        if (latest.Count == 0)
            return new ReportSection(title, 1, [new ReportBlock.Paragraph("Nothing has been measured yet, so nothing can be set against the class of work.")]);
        var upkeep = StandingSections.Upkeep(scope);
        var area = WorkArea.Of(ledger, scope.Machine, scope.Limits).By(upkeep);
        var made = latest.Select(finding => finding.Made.Body).ToList();
        var limits = new WorkLimits(scope.Limits, scope.Machine.Class);
        var limited = made.Select(finding => (Made: finding, Limit: StandingLimit.Of(finding.Finding, finding.Options, finding.Place, limits))).ToLookup(pair => pair.Limit is not null);
        return new ReportSection(title, 1,
        [
            new ReportBlock.Paragraph(Opening(scope, area)),
            new ReportBlock.Table("acceptance", Headers, [Corner(scope, area), .. limited[true].Select(pair => Row(scope, pair.Made, pair.Limit!, StandingSections.NoLonger(upkeep, pair.Made)))]),
            new ReportBlock.Items([.. limited[false].Select(pair => $"No limit for {CharacteristicKinds.TitleOf(pair.Made.Characteristic)}{Of(pair.Made.Axis)}: the class of work has none and none was given.")]),
        ]);
    }

    private static string Opening(ReportScope scope, WorkArea area) =>
        $"Class of work: {AcceptanceClasses.NameOf(scope.Machine.Class)}; {scope.Limits.Source}. The worst corner of the work area decides whether a single result is worth touching."
        + (area.Verdict == Verdict.Within ? " It lies within its limit: for this class of work no single result has to be changed for the sake of position." : "");

    private static ImmutableArray<ReportCell> Corner(ReportScope scope, WorkArea area)
    {
        var corner = new FittedParameter
        {
            Name = Signs.PositionError, Unit = "mm", Value = area.ErrorMm, StandardUncertainty = area.ExpandedMm / WorkArea.CoverageFactor,
            CoverageFactor = WorkArea.CoverageFactor, ExpandedUncertainty = area.ExpandedMm, WhyNoUncertainty = area.ErrorMm is null ? "results are missing" : null,
        };
        var cells = FindingSections.Shown(corner, scope.Units);
        var unit = scope.Units.Length;
        ReportCell limit = area.LimitMm is { } most ? As(cells.Value, most / unit.Factor) : "";
        var place = area.Corner is { } at ? Invariant($"X {at.X / unit.Factor:0.##}, Y {at.Y / unit.Factor:0.##} {unit.Symbol}") : "";
        var widest = area.Parts.MaxBy(part => part.Share);
        return
        [
            "worst corner of the work area", "X Y", place, cells.Value, cells.Uncertainty, cells.Unit, cells.Factor, limit,
            "class of work: " + AcceptanceClasses.NameOf(scope.Machine.Class), area.Instead is { } instead ? StandingWords.Of(instead) : area.Withheld ? "withheld: results do not agree" : FindingWords.Of(area.Verdict),
            widest is { Share: > 0 } ? Share(widest.Quantity.Title, widest.Share) : "", CornerImprovement(scope, area),
        ];
    }

    private static ReportCell As(ReportCell value, double limit) => new(Quantities.ValueFormat.Limit(limit, value.IsNumber ? value.Text : ""), IsNumber: true);

    private static string CornerImprovement(ReportScope scope, WorkArea area)
    {
        if (area.ErrorMm is null)
            return $"Measure what is missing: {string.Join(", ", area.Missing)}.";
        if (area.Verdict == Verdict.Within)
            return "None is needed.";
        if (area.Verdict == Verdict.Undecided && !area.Disputed.IsEmpty)
            return $"Find out why the results of {string.Join(" and of ", area.Disputed.Select(one => one.Quantity.Title))} do not agree: look for a blunder, or for what changed between them, and measure once more.";
        var outside = area.Verdict == Verdict.Outside;
        var part = outside ? area.Parts.MaxBy(p => p.ErrorMm)! : area.Parts.MaxBy(p => p.Share)!;
        var length = scope.Units.Length;
        var first = outside
            ? Invariant($"Begin with {part.Quantity.Title}: it alone moves this corner by {part.ErrorMm / length.Factor:0.###} {length.Symbol}.")
            : $"Measure {part.Quantity.Title} more closely.";
        var behind = area.Evidence.First(one => one.Quantity == part.Quantity).Results;
        return behind.IsEmpty ? first : $"{first} {Told(behind[0].Made.Body.Finding)}".TrimEnd();
    }

    private static ImmutableArray<ReportCell> Row(ReportScope scope, EntryBody.FindingMade made, StandingLimit limit, ResultState? noLonger)
    {
        var (finding, headline) = (made.Finding, made.Finding.Headline);
        var cells = FindingSections.Headline(finding, scope.Units);
        var verdict = limit.Verdict;
        ReportCell shown = limit.Value is { } value ? As(cells.Value, value / FindingText.UnitOf(headline, scope.Units).Factor) : limit.Tolerance.Typed;
        return
        [
            CharacteristicKinds.TitleOf(made.Characteristic), made.Axis ?? "", made.Place ?? "", cells.Value, cells.Uncertainty, cells.Unit, cells.Factor,
            shown, From(limit.Tolerance, finding, scope.Units), noLonger is null ? FindingWords.Of(verdict) : "withheld: " + StandingWords.Of(noLonger.Standing),
            finding.Budget.IsDefaultOrEmpty ? "" : Share(finding.Budget[0].Source, finding.Budget[0].Share),
            noLonger is not null ? $"Measure it again: {noLonger.Reasons[0].Because}." : verdict == Verdict.Within ? NoneNeeded(finding, limit) : Improvement(finding, verdict, limit.JudgedWithIt),
        ];
    }

    // Who gave a limit; one of a class of work says so itself.
    private static string From(Tolerance limit, Finding finding, Quantities.ShownUnits units)
    {
        if (AcceptanceClasses.Gave(limit))
            return limit.Typed;
        var who = limit.From switch { LimitFrom.Request => "given for this result", LimitFrom.Procedure => "the procedure", _ => "given for this result or by its procedure" };
        return finding.LimitOverMm is null ? who : $"{who}: {FindingText.Limit(limit, finding, units)}";
    }

    // A finding that had no limit advises by its uncertainty alone; said beside a verdict, so that the two do not seem to contradict each other.
    private static string NoneNeeded(Finding finding, StandingLimit limit) => limit.WithoutOne && finding.Advice.Action is AdviceAction.Change or AdviceAction.FindTheFault
        ? "None is needed for this class of work. The finding had no limit: its own advice tells only that the value is larger than its uncertainty."
        : "None is needed.";

    private static string Improvement(Finding finding, Verdict verdict, bool advised)
    {
        if ((advised || verdict == Verdict.Outside) && Told(finding) is { Length: > 0 } told)
            return told;
        if (verdict == Verdict.Outside)
            return "Mend the cause: more readings do not bring the value down.";
        return finding.Budget.IsDefaultOrEmpty ? "Take each reading at least twice, so that their scatter is known."
            : finding.Budget[0].RepeatingHelps ? "Take more readings of the same kind."
            : "Take another instrument, or have this one checked: more readings do not help.";
    }

    private static string Told(Finding finding) =>
        finding.Advice.Next ?? (finding.Advice.Setting is { } setting ? FindingText.Setting(setting) : "");

    private static string Share(string source, double share) => Invariant($"{source}, {share * 100:0} % of the variance");

    private static string Of(string? axis) => axis is null ? "" : " of " + axis;
}
