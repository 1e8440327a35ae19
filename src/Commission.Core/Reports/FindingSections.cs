using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Quantities;
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
    public readonly record struct Cells(ReportCell Value, ReportCell Uncertainty, string Unit, ReportCell Factor);

    /// <summary>The section of one finding.</summary>
    public static ReportSection Of(Ledger ledger, ReportScope scope, FindingRecord record)
    {
        var made = record.Made.Body;
        var finding = made.Finding;
        var readings = Readings(ledger, record);
        return new ReportSection(Title(made), 1,
        [
            new ReportBlock.Items([.. FindingText.Advice(finding, scope.Units)]),
            Parameters(finding, made.Options.Coverage, scope.Units),
            .. finding.Budget.IsDefaultOrEmpty ? (ReportBlock[])[] : [Budget(finding)],
            new ReportBlock.Items([.. Basis(ledger, scope, record, readings)]),
            .. FindingPicture.Of(ledger, made, scope.Units) is { } figure ? (ReportBlock[])[new ReportBlock.Picture(figure)] : [],
        ]);
    }

    /// <summary>The raw readings behind a finding, those left out too.</summary>
    public static ReportSection RawOf(Ledger ledger, ReportScope scope, FindingRecord record) =>
        new(Title(record.Made.Body), 2, [Raw(ledger, scope, record.Made.Body.Run, Readings(ledger, record))]);

    /// <summary>The readings of a run, whatever became of them.</summary>
    public static ReportBlock RawOf(Ledger ledger, ReportScope scope, long run) => Raw(ledger, scope, run, [.. ledger.ReadingsOf(run)]);

    private static List<ReadingRecord> Readings(Ledger ledger, FindingRecord record) => ledger.ReadingsOf(record.Made.Body).ToList();

    private static string Title(EntryBody.FindingMade made) =>
        (CharacteristicKinds.TitleOf(made.Finding.Kind)) + (made.Axis is null ? "" : " " + made.Axis) + (made.Place is null ? "" : ", " + made.Place);

    /// <summary>A parameter as cells, in the unit it is shown in.</summary>
    public static Cells Shown(FittedParameter parameter, ShownUnits units)
    {
        var unit = FindingText.UnitOf(parameter, units);
        if (parameter.Value is not { } value)
            return new Cells("not given", parameter.WhyNoUncertainty ?? "the readings do not determine it", unit.Symbol, "");
        var (text, u) = ValueFormat.Pair(value / unit.Factor, parameter.ExpandedUncertainty / unit.Factor);
        ReportCell uncertainty = u is null ? "none: " + (parameter.WhyNoUncertainty ?? "not given") : new ReportCell(u, IsNumber: true);
        return new Cells(new ReportCell(text, IsNumber: true), uncertainty, unit.Symbol, parameter.CoverageFactor is { } k ? Number(k, "0.00") : "");
    }

    /// <summary>A number as a cell.</summary>
    public static ReportCell Number(double value, string format) => new(value.ToString(format, CultureInfo.InvariantCulture), IsNumber: true);

    private static ReportBlock.Table Parameters(Finding finding, double coverage, ShownUnits units) => new(
        "parameter",
        ["parameter", "value", "U", "unit", "k", "coverage", "degrees of freedom", "u fresh", "u shared"],
        [.. finding.Parameters.Select(parameter =>
        {
            var cells = Shown(parameter, units);
            return (ImmutableArray<ReportCell>)
            [
                parameter.Name, cells.Value, cells.Uncertainty, cells.Unit, cells.Factor, Number(coverage, "0.###"),
                parameter.DegreesOfFreedom is { } count && double.IsFinite(count) ? Number(count, "0.#") : parameter.DegreesOfFreedom is null ? "" : "known",
                Part(parameter.FreshUncertainty, parameter, units), Part(parameter.SharedUncertainty, parameter, units),
            ];
        })]);

    private static ReportCell Part(double? uncertainty, FittedParameter parameter, ShownUnits units) =>
        uncertainty is { } u ? new ReportCell(ValueFormat.Pair(0, u / FindingText.UnitOf(parameter, units).Factor).Uncertainty ?? "0", IsNumber: true) : "";

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
            yield return $"tolerance: {tolerance.Typed}";
        if (made.Operator is { } person)
            yield return $"measured by {scope.Person(person)}";
        var instrument = made.Options.Instrument;
        yield return instrument is null ? "instrument: none named" : "instrument: " + InstrumentText.Line(instrument, ledger.Instruments.TryGetValue(instrument.Name, out var owned) && owned.Body.Retired);
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
            ["entry", "place", .. given.Select(scope.Units.Column), .. words, "reading", "unit", "typed", "instrument", "by", "at", "left out"],
            [.. all.Select(reading => Row(scope, reading, given, words))]);
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
            Number(reading.Sequence, "0"), taken.Place,
            .. given.Select(name => taken.Given.TryGetValue(name, out var position) ? Number(scope.Units.InColumn(position, name), "0.######") : ""),
            .. words.Select(name => (ReportCell)taken.Words.GetValueOrDefault(name, "")),
            Number(value, "0.######"), unit, taken.Typed, taken.Instrument ?? "", taken.Operator is { } person ? scope.Person(person) : "",
            Invariant($"{reading.Taken.At:yyyy-MM-dd HH:mm:ss zzz}"), standing,
        ];
    }
}
