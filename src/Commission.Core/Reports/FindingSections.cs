using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Quantities;
using Commission.Core.Upkeep;
using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>What a report says about one finding: numbers, what U contains, advice, picture, raw readings.</summary>
internal static class FindingSections
{
    /// <summary>A parameter as cells.</summary>
    /// <param name="Value">Value, to the last decimal of U.</param>
    /// <param name="Uncertainty">U, or the reason why there is none.</param>
    /// <param name="Unit">Unit of both.</param>
    /// <param name="Factor">Coverage factor.</param>
    public readonly record struct Cells(ReportCell Value, ReportCell Uncertainty, string Unit, ReportCell Factor)
    {
        /// <summary>Whether the ends of an interval stand in the place of U.</summary>
        public bool IsInterval { get; init; }
    }

    /// <summary>The section of one finding.</summary>
    public static ReportSection Of(Ledger ledger, ReportScope scope, FindingRecord record)
    {
        var made = record.Made.Body;
        var finding = made.Finding;
        var readings = Readings(ledger, record);
        return new ReportSection(Title(made), 1,
        [
            new ReportBlock.Items([.. ledger.LeftOutSince(record.Made).Select(left => LeftOutText.Of(ledger, left.Reading, left.Entry, left.Reason, scope.Units))]),
            new ReportBlock.Items([.. record.Counts ? RestingFacts.Of(ledger, record.Made).Select(lost => scope.Units.Told(lost.Clause)) : [], .. record.Counts && RestingFacts.OtherClass(ledger, made) is { } other ? [other] : (ReadOnlySpan<string>)[]]),
            new ReportBlock.Items([.. FindingText.Advice(finding, scope.Units), .. StandingWords.Of(record, StandingSections.Upkeep(scope)) is { Length: > 0 } stands ? (string[])["stands: " + stands] : []]),
            // On paper what follows stands beside the picture.
            .. FindingPicture.Of(ledger, made, scope.Units) is { } figure ? (ReportBlock[])[new ReportBlock.Picture(figure)] : [],
            Parameters(finding, made.Options.Coverage, scope.Units),
            Reasons(finding),
            .. finding.Budget.IsDefaultOrEmpty || finding.HeadlineIfAny()?.ExpandedUncertainty is null ? (ReportBlock[])[] : [Budget(finding)],
            new ReportBlock.Items([.. Basis(ledger, scope, record, readings)]),
        ]);
    }

    /// <summary>The raw readings behind a finding, those left out too.</summary>
    public static ReportSection RawOf(Ledger ledger, ReportScope scope, FindingRecord record) =>
        new(Title(record.Made.Body), 2, [Raw(ledger, scope, record.Made.Body.Run, Readings(ledger, record))]);

    /// <summary>The readings of a run, whatever became of them.</summary>
    public static ReportBlock RawOf(Ledger ledger, ReportScope scope, long run) => Raw(ledger, scope, run, [.. ledger.ReadingsOf(run)]);

    private static List<ReadingRecord> Readings(Ledger ledger, FindingRecord record) => ledger.ReadingsOf(record.Made.Body).ToList();

    /// <summary>What a finding is of: characteristic, axis, place.</summary>
    public static string Title(EntryBody.FindingMade made) =>
        (CharacteristicKinds.TitleOf(made.Finding.Kind)) + (made.Axis is null ? "" : " " + made.Axis) + (made.Place is null ? "" : ", " + made.Place);

    /// <summary>The headline of a finding as cells, as it is told under the title of its kind.</summary>
    public static Cells Headline(Finding finding, ShownUnits units) => Shown(Signs.Told(finding.Headline), units, finding.Kind);

    /// <summary>A parameter as cells, in the unit it is shown in.</summary>
    /// <param name="parameter">The parameter.</param>
    /// <param name="units">Units to show it in.</param>
    /// <param name="kind">Id of its kind; null where it is not known.</param>
    public static Cells Shown(FittedParameter parameter, ShownUnits units, string? kind = null)
    {
        var unit = FindingText.UnitOf(parameter, units);
        if (parameter.Value is not { } value)
            return new Cells("not given", parameter.WhyNoUncertainty ?? "the readings do not determine it", unit.Symbol, "");
        var signed = Signs.IsSigned(parameter.Name, kind);
        if (parameter.Interval is var (low, high))
            return new Cells(new ReportCell(ValueFormat.Pair(value / unit.Factor, null, signed).Value, IsNumber: true), ValueFormat.Between(low / unit.Factor, high / unit.Factor), unit.Symbol, "") { IsInterval = true };
        var (text, u) = ValueFormat.Pair(value / unit.Factor, parameter.ExpandedUncertainty / unit.Factor, signed);
        ReportCell uncertainty = u is null ? "none: " + (parameter.WhyNoUncertainty ?? "not given") : new ReportCell(u, IsNumber: true);
        return new Cells(new ReportCell(text, IsNumber: true), uncertainty, unit.Symbol, parameter.CoverageFactor is { } k ? Number(k, "0.00") : "");
    }

    /// <summary>U, or that there is none: the reason then stands below the table, so that numbers stay beside each other.</summary>
    public static ReportCell Short(Cells cells) => cells.Uncertainty.IsNumber || cells.IsInterval ? cells.Uncertainty : "none";

    /// <summary>Why headlines have no U.</summary>
    public static ReportBlock.Items Reasons(IEnumerable<FindingRecord> findings) => Reasons(findings.Select(finding => (finding.Made.Body, finding.Made.Body.Finding.Headline)));

    /// <summary>Where there is no U its reason stands once below the table.</summary>
    public static ReportBlock.Items Reasons(IEnumerable<(EntryBody.FindingMade Made, FittedParameter Shown)> results) => new(
    [
        .. results.Where(result => result.Shown.ExpandedUncertainty is null).Select(result => $"no U for {CharacteristicKinds.TitleOf(result.Made.Characteristic)}: {result.Shown.WhyNoUncertainty ?? "not given"}").Distinct(),
    ]);

    private static ReportBlock.Items Reasons(Finding finding) => new(
    [
        .. finding.Parameters.Where(parameter => parameter is { Value: not null, ExpandedUncertainty: null }).GroupBy(parameter => parameter.WhyNoUncertainty ?? "not given")
            .Select(same => $"no U for {string.Join(", ", same.Select(parameter => parameter.Name))}: {same.Key}"),
        .. finding.Parameters.Where(parameter => parameter.Value is null).GroupBy(parameter => parameter.WhyNoUncertainty ?? "the readings do not determine it")
            .Select(same => $"not given, {string.Join(", ", same.Select(parameter => parameter.Name))}: {same.Key}"),
    ]);

    /// <summary>A number as a cell.</summary>
    public static ReportCell Number(double value, string format) => new(value.ToString(format, CultureInfo.InvariantCulture), IsNumber: true);

    private static ReportBlock.Table Parameters(Finding finding, double coverage, ShownUnits units) => new(
        "parameter",
        ["parameter", "value", "U", "unit", "k", "coverage", "degrees of freedom", "u fresh", "u shared"],
        [.. finding.Parameters.Select(parameter =>
        {
            var cells = Shown(parameter, units, finding.Kind);
            return (ImmutableArray<ReportCell>)
            [
                parameter.Name, cells.Value, Short(cells), cells.Unit, cells.Factor, Number(coverage, "0.###"),
                parameter.DegreesOfFreedom is { } count && double.IsFinite(count) ? Number(count, "0.#") : parameter.DegreesOfFreedom is null ? "" : "known",
                Part(parameter.FreshUncertainty, parameter, units), Part(parameter.SharedUncertainty, parameter, units),
            ];
        })]);

    // To one digit more than U itself: what is less than that adds nothing to it.
    private static ReportCell Part(double? uncertainty, FittedParameter parameter, ShownUnits units)
    {
        if (uncertainty is not { } u)
            return "";
        var factor = FindingText.UnitOf(parameter, units).Factor;
        var own = Digits(u / factor);
        var most = 1 + Decimals(Digits((parameter.ExpandedUncertainty ?? parameter.StandardUncertainty ?? u) / factor));
        var text = Decimals(own) <= most ? own : (u / factor).ToString("F" + most.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        return new ReportCell(text.AsSpan().IndexOfAnyExcept('0', '.') < 0 ? "0" : text, IsNumber: true);
    }

    private static string Digits(double uncertainty) => ValueFormat.Pair(0, uncertainty).Uncertainty ?? "0";

    private static int Decimals(string text) => text.IndexOf('.', StringComparison.Ordinal) is var point and >= 0 ? text.Length - point - 1 : 0;

    private static ReportBlock.Table Budget(Finding finding) => new(
        "budget",
        ["what U contains", "share of variance, %", "repeating helps"],
        [.. finding.Budget.Select(line => (ImmutableArray<ReportCell>)[line.Source, Number(line.Share * 100, "0.0"), line.RepeatingHelps ? "yes" : "no"])]);

    private static IEnumerable<string> Basis(Ledger ledger, ReportScope scope, FindingRecord record, List<ReadingRecord> readings)
    {
        var made = record.Made.Body;
        yield return Invariant($"method {made.Finding.Method}; {made.Finding.Used} of {made.Finding.Rows} readings used; entry {record.Sequence}");
        if (made.Finding.ResidualStandardDeviation is { } s)
        {
            var (scatter, unit) = UnitOf(readings) is { } of ? scope.Units.Show(s, of) : (s, "in the unit of the readings");
            yield return Invariant($"scatter about the fit: {scatter:0.#####} {unit}, a standard deviation");
        }

        if (made.Options.Tolerance is { } tolerance)
            yield return $"tolerance: {FindingText.Limit(tolerance, made.Finding, scope.Units)}";
        if (made.Operator is { } person)
            yield return $"measured by {scope.Person(person)}";
        var instrument = made.Options.Instrument;
        yield return instrument is null ? "instrument: none named" : "instrument: " + InstrumentText.Line(instrument, ledger.Instruments.TryGetValue(instrument.Name, out var owned) && owned.Body.Retired, scope.Units);
        foreach (var suspect in made.Finding.Suspects)
            yield return scope.Units.Told("questioned, " + FindingText.Questioned(suspect));
        foreach (var remark in made.Finding.Remarks)
            yield return scope.Units.Told(remark);
        if (readings.Count == 0)
            yield return "the raw readings are not in this store";
    }

    private static string? UnitOf(List<ReadingRecord> readings) => readings.FirstOrDefault()?.Taken.Body.Unit;

    private static ReportBlock.Table Raw(Ledger ledger, ReportScope scope, long? run, List<ReadingRecord> used)
    {
        // The run's other readings belong here too: what was left out is shown with its reason.
        var all = run is { } number ? used.Concat(ledger.ReadingsOf(number).Where(r => !r.Counts)).DistinctBy(r => r.Sequence).OrderBy(r => r.Sequence).ToList() : used;
        var given = all.SelectMany(r => r.Taken.Body.Given.Keys).Distinct().Order(StringComparer.Ordinal).ToList();
        var words = all.SelectMany(r => r.Taken.Body.Words.Keys).Distinct().Order(StringComparer.Ordinal).ToList();
        return new ReportBlock.Table(
            "reading",
            ["entry", "no", "place", .. given.Select(scope.Units.Column), .. words, "reading", "unit", "typed", "instrument", "by", "at", "left out"],
            [.. all.Select(reading => Row(scope, reading, given, words))])
        { Long = true };
    }

    private static ImmutableArray<ReportCell> Row(ReportScope scope, ReadingRecord reading, List<string> given, List<string> words)
    {
        var taken = reading.Taken.Body;
        var (value, unit) = scope.Units.Show(taken.Value, taken.Unit);
        var standing = reading.Standing switch
        {
            ReadingStanding.Excluded left => "excluded: " + left.Reason,
            ReadingStanding.Superseded old => "replaced: " + old.Reason,
            _ => "",
        };
        return
        [
            Number(reading.Sequence, "0"), Number(taken.Number, "0"), scope.Units.Told(taken.Place),
            .. given.Select(name => taken.Given.TryGetValue(name, out var position) ? Number(scope.Units.InColumn(position, name), "0.######") : ""),
            .. words.Select(name => (ReportCell)scope.Units.Told(taken.Words.GetValueOrDefault(name, ""))),
            Number(value, "0.######"), unit, TypedText.Of(taken), taken.Instrument ?? "", taken.Operator is { } person ? scope.Person(person) : "",
            Invariant($"{reading.Taken.At:yyyy-MM-dd HH:mm:ss zzz}"), standing,
        ];
    }
}
