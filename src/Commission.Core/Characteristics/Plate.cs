using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Fits;
using Commission.Core.Quantities;
using Commission.Core.Readings;
using Commission.Core.Suspects;

namespace Commission.Core.Characteristics;

/// <summary>Scale, squareness and lost motion of two axes together from a plate of drilled marks.</summary>
public sealed class Plate : CharacteristicKind
{
    private static readonly ImmutableArray<string> Approaches = ["++", "+-", "-+", "--"];

    private static readonly (string Name, string Unit)[] Found =
        [("squareness", "rad"), ("scaleErrorX", "1"), ("scaleErrorY", "1"), ("reversalX", "mm"), ("reversalY", "mm"), ("holeDiameter", "mm")];

    /// <inheritdoc/>
    public override string Id => "plate";

    /// <inheritdoc/>
    public override string Title => "plate";

    /// <inheritdoc/>
    public override string Method => "plate/2";

    /// <inheritdoc/>
    public override ImmutableArray<ColumnSpec> Columns =>
    [
        new("x1_mm", ColumnContent.Length, "commanded X of one mark"), new("y1_mm", ColumnContent.Length, "commanded Y of one mark"),
        new("approach1", ColumnContent.Word, "last approach of X and Y to it") { Words = Approaches },
        new("x2_mm", ColumnContent.Length, "commanded X of the other"), new("y2_mm", ColumnContent.Length, "commanded Y of the other"),
        new("approach2", ColumnContent.Word, "last approach of X and Y to it") { Words = Approaches },
        new("edges", ColumnContent.Word, "walls of the holes the jaws touched") { Words = ["outer", "inner", "centre"] },
        new("distance_mm", ColumnContent.Length, "reading"),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<OptionSpec> Options =>
    [
        new("mark-sd-mm", true, "standard deviation of a mark's place on each axis; averaged over where not told"),
        new("hole-sd-mm", true, "standard deviation of a hole's diameter, 0.010 where not told"),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<ParameterSpec> Parameters => [.. Found.Zip(
        new[]
        {
            "positive where the angle from +X to +Y is below 90 degrees", "positive where X travels too far", "positive where Y travels too far",
            "reversal value of X, normally negative", "reversal value of Y, normally negative", "diameter of the holes as the jaws feel it",
        }, (f, meaning) => new ParameterSpec(f.Name, f.Unit, meaning) { IsSize = f.Name == "holeDiameter" })];

    /// <inheritdoc/>
    public override string? WhyNoPublishedCase => "no published example of marks drilled and measured with shared errors was found; simulated machines and an own worked set check it";

    /// <inheritdoc/>
    public override Outcome<Finding> Evaluate(ReadingTable readings, FitOptions options)
    {
        var model = ModelOf(readings);
        if (model.Readings.Any(r => r.From == r.To))
            return new Problem("a row names the same mark twice", "Give two different marks in each row");
        var draft = new FindingDraft(this, readings, options);
        var open = Open(model);
        if (open.FirstOrDefault(direction => direction.Involves(PlateModel.Names[0])) is { } lost)
            return new Problem($"the plate does not determine squareness: {lost.InWords}", "Measure pairs that lie aslant in both senses, and the sides");
        var mark = options.Number("mark-sd-mm");
        var digit = Scatter.Coarser(options.Instrument?.ResolutionMm, Scatter.LastDigit(readings, "distance_mm"));
        var hand = Math.Max(options.Hand?.StandardDeviationMm ?? 0.020, (digit ?? 0) / Math.Sqrt(12));
        var typical = new PlateScatter(hand, mark ?? 0.015, options.Numbers.GetValueOrDefault("hole-sd-mm", 0.010));
        if (!(typical.Mark > 0) || !(typical.Hole > 0) || !(typical.Reading > 0))
            return new Problem("a standard deviation is not positive", "Give --mark-sd-mm and --hole-sd-mm above zero");
        var scale = options.Instrument?.LimitMm is { } limit ? limit / (Math.Sqrt(3) * model.Readings.Max(r => r.Value)) : 0;
        return PlateFit.Of(model, typical, mark is null, options.Hand?.DegreesOfFreedom ?? 14, scale, open)
            .Then(fit => Answer(fit, model, typical, open, draft, options));
    }

    /// <inheritdoc/>
    public override Figure? Picture(Finding finding, ReadingTable readings) => DistancePicture.Of("Plate", finding, readings,
        string.Create(CultureInfo.InvariantCulture, $"{finding.Used} readings between the marks; what marks and holes explain is taken off their residuals."));

    private static Outcome<Finding> Answer(
        PlateFit fit, PlateModel model, PlateScatter typical, ImmutableArray<NullDirection> open, FindingDraft draft, FitOptions options)
    {
        var factor = 2 * StudentT.Quantile(0.5 + options.Coverage / 2, 60) / StudentT.Quantile(0.975, 60);
        var given = new List<int>();
        for (var i = 0; i < Found.Length; i++)
        {
            var lost = open.FirstOrDefault(direction => direction.Involves(PlateModel.Names[i]));
            if (lost is not null)
            {
                draft.AddBare(Found[i].Name, Found[i].Unit, null, Words(i, lost));
                continue;
            }
            given.Add(i);
            draft.Add(Found[i].Name, Found[i].Unit, fit.Estimates[i],
            [
                new UncertaintyPart("scatter of readings, marks and holes", Math.Sqrt(fit.Fresh[i, i])) { RepeatingHelps = true },
                new UncertaintyPart("limit of error of the instrument", Math.Abs(fit.Scale[i])) { Shared = true, Rectangular = true },
                new UncertaintyPart("inside jaws against outside jaws", Math.Abs(fit.Jaws[i])) { Shared = true, Rectangular = true },
            ], factor: factor);
        }
        Remark(draft, model);
        draft.Doubt(SeriesDetector.LookAt(Lengths(model), Math.Max(typical.Reading, 0.05)));
        draft.Doubt(PairRule(model, typical, fit));
        draft.Doubt(BadMark(model, fit));
        ImmutableArray<ImmutableArray<double>> covariance = [.. given.Select(i => given.Select(j =>
            fit.Fresh[i, j] + fit.Scale[i] * fit.Scale[j] + fit.Jaws[i] * fit.Jaws[j]).ToImmutableArray())];
        var freedom = fit.Marks.DegreesOfFreedom;
        double? scatter = freedom > 0 ? typical.Reading * Math.Sqrt(fit.Marks.ChiSquare / freedom) : null;
        var longest = model.Readings.Max(r => r.Value);
        return draft.Close(longest, Squaring.Advise, covariance, [.. fit.Marks.Residuals], scatter);
    }

    private static string Words(int index, NullDirection lost) => index is 3 or 4 && lost.Parts.Length == 1
        ? "lost motion is not in these marks; drill some from the other side"
        : lost.InWords + "; it needs pairs approached alike and pairs approached from opposite sides";

    private static void Remark(FindingDraft draft, PlateModel model)
    {
        var edges = model.Readings.Select(r => r.Edge).Where(e => e != 0).Distinct().Count();
        if (edges == 1)
            draft.Remarks.Add("Only one sort of wall was measured: the hole's diameter and the common scale are hard to tell apart; measure each pair outside and inside.");
        draft.Remarks.Add(string.Create(CultureInfo.InvariantCulture,
            $"Scale holds for the window of the plate, X {model.Marks.Min(m => m.X):0} to {model.Marks.Max(m => m.X):0} mm and Y {model.Marks.Min(m => m.Y):0} to {model.Marks.Max(m => m.Y):0} mm, not for the whole axes."));
    }

    /// <summary>Lengths of the pairs measured over the walls most used, as commanded and as read.</summary>
    private static AxisPoint[] Lengths(PlateModel model) => [.. model.Readings.GroupBy(r => r.Edge).MaxBy(g => g.Count())!
        .Select(r => (From: model.Marks[r.From], To: model.Marks[r.To], r.Value))
        .Select(r => new AxisPoint(Math.Sqrt(Math.Pow(r.To.X - r.From.X, 2) + Math.Pow(r.To.Y - r.From.Y, 2)), r.Value, 0))];

    /// <summary>Outer less inner is the same for all pairs, whatever the marks: 4.5 standard deviations off the median, our choice.</summary>
    private static IEnumerable<Doubt> PairRule(PlateModel model, PlateScatter s, PlateFit fit)
    {
        var pairs = model.Readings.Select((r, i) => (Reading: r, Index: i)).GroupBy(r => (r.Reading.From, r.Reading.To))
            .Where(g => g.Any(r => r.Reading.Edge > 0) && g.Any(r => r.Reading.Edge < 0))
            .Select(g => (Outer: g.First(r => r.Reading.Edge > 0), Inner: g.First(r => r.Reading.Edge < 0))).ToArray();
        if (pairs.Length < 3)
            yield break;
        var median = SampleStatistics.MedianOf(pairs.Select(p => p.Outer.Reading.Value - p.Inner.Reading.Value));
        var limit = 4.5 * Math.Sqrt(2 * s.Reading * s.Reading + 0.010 * 0.010);
        foreach (var (outer, inner) in pairs)
        {
            var off = outer.Reading.Value - inner.Reading.Value - median;
            if (Math.Abs(off) <= limit)
                continue;
            double Size(int i) => Math.Abs(fit.Marks.Residuals[i]) / Math.Sqrt(Math.Max(1 - fit.Marks.Leverages[i], 1e-6));
            var (worse, expected) = Size(outer.Index) >= Size(inner.Index)
                ? (outer.Reading, outer.Reading.Value - off)
                : (inner.Reading, inner.Reading.Value + off);
            var question = SlipDetector.LookAt(worse.Value, expected, limit / 5, worse.Row.Typed.GetValueOrDefault("distance_mm"));
            yield return new Doubt(worse.Row.Number, string.Create(CultureInfo.InvariantCulture, $"Outside less inside of this pair is {off:+0.00;-0.00} mm off the other pairs."),
                question is { Candidates.IsEmpty: false } ? question.Words : "Measure both readings of the pair again; this one fits the rest less well.");
        }
    }

    /// <summary>A displaced mark: the largest offset beyond 3.3 of its standard deviations and the chi-square beyond 1 %, both.</summary>
    private static IEnumerable<Doubt> BadMark(PlateModel model, PlateFit fit)
    {
        var (marks, freedom) = (fit.Marks, fit.Marks.DegreesOfFreedom);
        if (freedom < 1 || marks.ChiSquare < ChiSquare.Quantile(0.99, freedom))
            yield break;
        var worst = marks.Offsets.Select(offset => (offset.Mark, Size: Math.Abs(offset.Value) / Math.Max(offset.Deviation, 1e-9))).MaxBy(m => m.Size);
        if (worst.Size > 3.3)
        {
            var mark = model.Marks[worst.Mark];
            yield return new Doubt(0, string.Create(CultureInfo.InvariantCulture, $"The mark at X {mark.X:0.##}, Y {mark.Y:0.##} looks displaced."), "Leave it out or drill it again.");
        }
    }

    private static ImmutableArray<NullDirection> Open(PlateModel model)
    {
        var system = new AugmentedSystem(PlateModel.Names[..6]);
        double[] nominal = [0, 0, 0, 0, 0, 0, 0, 0];
        foreach (var reading in model.Readings)
            system.Reading(model.At(reading, nominal).Derivatives.AsSpan(0, 6), 0);
        return system.Undetermined();
    }

    private static PlateModel ModelOf(ReadingTable readings)
    {
        var marks = new List<PlateMark>();
        int Number(ReadingRow row, string n)
        {
            var approach = row.Words["approach" + n];
            var mark = new PlateMark(row[$"x{n}_mm"], row[$"y{n}_mm"], approach[0] == '+' ? 1 : -1, approach[1] == '+' ? 1 : -1);
            if (!marks.Contains(mark))
                marks.Add(mark);
            return marks.IndexOf(mark);
        }
        PlateReading[] read = [.. readings.Used.Select(row => new PlateReading(row, Number(row, "1"), Number(row, "2"),
            row.Words["edges"] switch { "outer" => 1, "inner" => -1, _ => 0 }, row["distance_mm"]))];
        return new PlateModel(marks, read);
    }
}
