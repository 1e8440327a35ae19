using System.Collections.Immutable;
using Commission.Core.Readings;

namespace Commission.Core.Characteristics;

/// <summary>Squareness from a square read twice, the second time turned over, so that its own error cancels (own derivation).</summary>
public sealed class SquareReversal : CharacteristicKind
{
    /// <inheritdoc/>
    public override string Id => "square-reversal";

    /// <inheritdoc/>
    public override string Title => "squareness by reversal";

    /// <inheritdoc/>
    public override string Method => "square-reversal/2";

    /// <inheritdoc/>
    public override ImmutableArray<ColumnSpec> Columns =>
    [
        new("setup", ColumnContent.Word, "1, and 2 with the square turned over") { Words = ["1", "2"] },
        new("travel_mm", ColumnContent.Length, "position along the blade"),
        new("reading_mm", ColumnContent.Length, "reading; grows where the blade moves to +X"),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<OptionSpec> Options =>
    [
        new(SquarePlane.Option, false, "the angle that the square shows: XY, which holds where none is told, XZ or YZ"),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<ParameterSpec> Parameters =>
    [
        new("squareness", "rad", "positive where the angle from +X to +Y is below 90 degrees; of Z, where it goes towards + as it rises"),
        new("artefactError", "rad", "error of the square itself"),
    ];

    /// <inheritdoc/>
    public override string? WhyNoPublishedCase => "no published example with all readings and the result was found; identities and simulated machines check it";

    /// <inheritdoc/>
    public override Outcome<Finding> Evaluate(ReadingTable readings, FitOptions options)
    {
        var used = readings.Used.ToArray();
        if (options.Words.TryGetValue(SquarePlane.Option, out var told) && !SquarePlane.All.Contains(told.ToUpperInvariant()))
            return new Problem($"--{SquarePlane.Option} {PlainText.Of(told)} is no plane", $"Give one of {string.Join(", ", SquarePlane.All)}");
        foreach (var setup in new[] { "1", "2" })
        {
            if (used.Where(row => row.Words["setup"] == setup).Select(row => row["travel_mm"]).Distinct().Count() < 2)
                return new Problem($"set-up {setup} has readings at fewer than two positions", "Read both set-ups at two positions at least");
        }
        var draft = new FindingDraft(this, readings, options);
        var model = new LinearModel("slope of set-up 1", "slope of set-up 2", "zero of set-up 1", "zero of set-up 2");
        foreach (var row in used)
        {
            var first = row.Words["setup"] == "1" ? 1.0 : 0.0;
            var travel = row["travel_mm"];
            model.Add([first * travel, (1 - first) * travel, first, 1 - first], row["reading_mm"], row["reading_mm"]);
        }
        return model.Solve(options, draft.Remarks, Scatter.LastDigit(readings, "reading_mm")).Then(fit =>
        {
            double[] squareness = [-0.5, -0.5, 0, 0], artefact = [0.5, -0.5, 0, 0];
            draft.Add("squareness", "rad", fit.Value(squareness), fit.Parts(squareness), LinearResult.NoScatter);
            draft.Add("artefactError", "rad", fit.Value(artefact), fit.Parts(artefact), LinearResult.NoScatter);
            draft.Look(fit.Series(readings, "reading_mm", options));
            draft.Remarks.Add("The error of the square cancels in the squareness, because the square was turned over.");
            var height = used.Max(row => row["travel_mm"]) - used.Min(row => row["travel_mm"]);
            return draft.Close(height, judgement => Squaring.Advise(judgement, SquarePlane.Upright(options)), fit.Covariance(squareness, artefact), fit.Solution.Residuals, fit.Residual);
        });
    }

    /// <inheritdoc/>
    public override Figure? Picture(Finding finding, ReadingTable readings) => new()
    {
        Title = "Both set-ups of the square",
        Horizontal = "position along the blade, mm",
        Vertical = "reading, mm",
        Layers = [.. SetUp(finding, readings, "1", "as it stands", 1), .. SetUp(finding, readings, "2", "turned over", -1)],
        Summary = "What both set-ups rise by together is the axes; what they rise by against each other is the square.",
    };

    // The fitted line goes through the middle of its readings with the slope that squareness and square give it.
    private static IEnumerable<FigureLayer> SetUp(Finding finding, ReadingTable readings, string setup, string name, int turned)
    {
        var points = readings.Used.Where(row => row.Words["setup"] == setup).Select(row => new FigurePoint(row["travel_mm"], row["reading_mm"])).ToArray();
        yield return new FigureLayer.Points(name, FigureMark.Dot, [.. points]);
        if (points.Length == 0 || finding.Parameter("squareness")?.Value is not { } squareness || finding.Parameter("artefactError")?.Value is not { } artefact)
            yield break;
        var (slope, x, y) = ((turned * artefact) - squareness, points.Average(point => point.X), points.Average(point => point.Y));
        yield return new FigureLayer.Line(name + ", fitted", [.. new[] { points.Min(point => point.X), points.Max(point => point.X) }.Select(at => new FigurePoint(at, y + (slope * (at - x))))], Dashed: turned < 0);
    }
}

/// <summary>What to do about an angle between two axes, however it was found.</summary>
internal static class Squaring
{
    // A gantry that is turned cures no Z that leans: that is what stands between the two.
    private static readonly Advice Gantry = Outside("Square the gantry mechanically with the power off; leave only the last few tenths to a home offset.");
    private static readonly Advice Slide = Outside("Shim the Z plate with the power off: a strip behind its upper or lower bolts, as thick as the angle times the distance of the bolts. Then measure again, and tram the spindle again.");

    /// <summary>The advice for an angle between X and Y.</summary>
    public static Advice Advise(Judgement judgement) => Advise(judgement, null);

    /// <summary>The advice for an angle.</summary>
    /// <param name="judgement">How it lies against its limit.</param>
    /// <param name="upright">XZ or YZ; null for X and Y.</param>
    public static Advice Advise(Judgement judgement, string? upright)
    {
        var outside = upright is null ? Gantry : Slide;
        return judgement.Usual("The squareness", outside, Unjudged(judgement, outside));
    }

    private static Advice Outside(string next) => new()
    {
        Action = AdviceAction.Change,
        Because = "The axes are out of square by more than the limit, the uncertainty counted.",
        Next = next,
    };

    private static Advice? Unjudged(Judgement judgement, Advice outside) => judgement.Significant switch
    {
        true => outside with { Because = "The axes are out of square by more than the uncertainty of the test; without a limit nobody can say whether that is too much." },
        false => new Advice { Action = AdviceAction.Leave, Because = "What was found is no larger than the uncertainty of the test." },
        null => null,
    };
}
