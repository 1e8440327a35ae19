using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Readings;

namespace Commission.Core.Characteristics;

/// <summary>Clearance and stiffness from the lost motion at several pulling forces: |B|(F) = clearance + 2 F / stiffness (own derivation).</summary>
public sealed class Stiffness : CharacteristicKind
{
    private const string NotMore = "the lost motion does not grow with the force";

    /// <inheritdoc/>
    public override string Id => "stiffness";

    /// <inheritdoc/>
    public override string Title => "clearance and stiffness";

    /// <inheritdoc/>
    public override string Method => "stiffness/3";

    /// <inheritdoc/>
    public override ImmutableArray<ColumnSpec> Columns =>
    [
        new("force_n", ColumnContent.Number, "pulling force against the motion, N"),
        new("place_mm", ColumnContent.Length, "position approached"),
        new("direction", ColumnContent.Direction, "sense of the last approach"),
        new("reading_mm", ColumnContent.Length, "deviation from the place"),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<ParameterSpec> Parameters =>
    [
        new("clearance", "mm", "lost motion without force") { IsSize = true },
        new("stiffness", "N/mm", "force for one mm of elastic give") { IsSize = true },
    ];

    /// <inheritdoc/>
    public override string? WhyNoPublishedCase => "no published example with all readings was found; it is a straight line, which has its cases under columns";

    /// <inheritdoc/>
    public override Outcome<Finding> Evaluate(ReadingTable readings, FitOptions options)
    {
        var groups = readings.Used.Select(row => (row["force_n"], row["place_mm"])).Distinct().ToArray();
        if (groups.Select(g => g.Item1).Distinct().Count() < 2)
            return new Problem("all readings were taken at one force", "Repeat the test at two more forces, for example 0, 20 and 40 N");
        var draft = new FindingDraft(this, readings, options);
        var model = new LinearModel(["the clearance", "the give for one newton",
            .. groups.Select(g => string.Create(CultureInfo.InvariantCulture, $"the middle at {g.Item1:0.##} N and {g.Item2:0.###} mm"))]);
        foreach (var row in readings.Used)
        {
            var coefficients = new double[2 + groups.Length];
            coefficients[0] = -row.Sign() / 2.0;
            coefficients[1] = -row.Sign() * row["force_n"];
            coefficients[2 + Array.IndexOf(groups, (row["force_n"], row["place_mm"]))] = 1;
            model.Add(coefficients, row["reading_mm"], row["reading_mm"]);
        }
        return model.Solve(options, draft.Remarks, Scatter.LastDigit(readings, "reading_mm")).Then(fit => Found(fit, draft, readings, options));
    }

    /// <inheritdoc/>
    public override Figure? Picture(Finding finding, ReadingTable readings)
    {
        double Side(IEnumerable<ReadingRow> rows, int sign) => rows.Where(row => row.Sign() == sign).Select(row => row["reading_mm"]).DefaultIfEmpty(double.NaN).Average();
        var points = readings.Used.GroupBy(row => (Force: row["force_n"], Place: row["place_mm"]))
            .Select(g => new FigurePoint(g.Key.Force, Side(g, -1) - Side(g, 1))).Where(p => double.IsFinite(p.Y));
        var (clearance, stiffness) = (finding.Headline.Value ?? 0, finding.Parameter("stiffness")?.Value);
        double[] ends = [readings.Used.Min(row => row["force_n"]), readings.Used.Max(row => row["force_n"])];
        return new Figure
        {
            Title = "Lost motion by pulling force",
            Horizontal = "force, N",
            Vertical = "lost motion, mm",
            Layers =
            [
                new FigureLayer.Points("lost motion", FigureMark.Dot, [.. points]),
                new FigureLayer.Line("clearance and give", [.. ends.Select(f => new FigurePoint(f, clearance + (stiffness is { } k ? 2 * f / k : 0)))]),
            ],
            Summary = string.Create(CultureInfo.InvariantCulture, $"The line meets zero force at {clearance:0.000} mm, the clearance; ")
                + (stiffness is { } found ? string.Create(CultureInfo.InvariantCulture, $"its rise is that of {found:0} N/mm.") : "no rise beyond its uncertainty was found."),
        };
    }

    private static Outcome<Finding> Found(LinearResult fit, FindingDraft draft, ReadingTable readings, FitOptions options)
    {
        double[] clearance = fit.Unit(0), give = fit.Unit(1);
        draft.Add("clearance", "mm", fit.Value(clearance), fit.Parts(clearance), LinearResult.NoScatter);
        var compliance = fit.Value(give);
        var half = fit.Parts(give) is { } parts ? new Spread(parts).HalfWidth(options.Coverage) : (double?)null;
        var seen = half is { } known && compliance > known;
        double[] stiffness = [.. give.Select(g => compliance == 0 ? 0 : -g / (compliance * compliance))];
        if (seen)
            draft.AddReciprocal("stiffness", "N/mm", compliance, fit.Parts(give)!, fit.Parts(stiffness));
        else if (half is null && compliance > 0)
            draft.AddBare("stiffness", "N/mm", 1 / compliance, LinearResult.NoScatter);
        else
            draft.AddBare("stiffness", "N/mm", null, half is not { } wide || compliance + wide <= 0 ? NotMore : draft.WhyNone ?? NoUpperBound(compliance + wide, options.Coverage));
        if (seen)
            draft.Remarks.Add("The lost motion grows with the force: part of it is elastic, and only the clearance should be compensated.");
        if (seen && draft.WhyNone is null)
            draft.Remarks.Add(Interval(compliance, half!.Value, options.Coverage));
        draft.Look(fit.Series(readings, "reading_mm", options));
        var (value, expanded) = (draft.HeadlineValue, draft.HeadlineExpanded);
        return draft.Close(null, judgement => Backlash.TurnedOver("clearance is negative", -value, expanded) ?? Advise(judgement), seen ? fit.Covariance(clearance, stiffness) : fit.Covariance([clearance]), fit.Solution.Residuals, fit.Residual);
    }

    private static string Interval(double compliance, double half, double coverage) => string.Create(CultureInfo.InvariantCulture,
        $"The stiffness lies between {Rounded(1 / (compliance + half))} and {Rounded(1 / (compliance - half))} N/mm ({100 * coverage:0.#} %); being one over the give, it reaches further up than down, and U is the longer side.");

    // A bound from below is rounded down: it must not promise more than was found.
    private static string NoUpperBound(double most, double coverage)
    {
        var least = 1 / most;
        var step = Math.Pow(10, Math.Floor(Math.Log10(least)) - 1);
        return string.Create(CultureInfo.InvariantCulture,
            $"no growth with the force larger than its uncertainty: at least {Rounded(Math.Floor(least / step) * step)} N/mm ({100 * coverage:0.#} %), and no upper bound with this instrument");
    }

    // Two digits are all that such a bound is worth.
    private static double Rounded(double value) => double.Parse(value.ToString("G2", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);

    private static Advice Advise(Judgement judgement) => judgement.Usual("The clearance", new Advice
    {
        Action = AdviceAction.Change,
        Because = "The clearance is larger than the limit, its uncertainty counted.",
        Next = "Take up nut, end bearing or coupling, then repeat the test.",
    });
}
