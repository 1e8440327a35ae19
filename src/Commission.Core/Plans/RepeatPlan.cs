using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Quantities;

namespace Commission.Core.Plans;

/// <summary>Plans for repeatability and homing: how well a standard deviation is known follows from the count alone (chi-square).</summary>
internal sealed class RepeatPlan : PlanKind
{
    private static readonly int[] Counts = [5, 10, 15, 20, 30, 50];

    public override string Id => "repeatability";

    public override string UsualInstrument => "indicator-10";

    public override Outcome<PlanDesign> Design(PlanQuestion question, PlanTool tool)
    {
        var expected = question.Numbers.GetValueOrDefault("expected-sd-mm", tool.ScatterMm);
        if (!(expected > 0)) return new Problem("the standard deviation expected is not positive", "Give --expected-sd-mm above zero, or leave it out");
        ImmutableArray<PlannedParameter> Told(int count)
        {
            var freedom = count - 1;
            var standard = expected / Math.Sqrt(2.0 * freedom);
            var expanded = question.CoverageFactor is { } k ? k * standard
                : expected * (Math.Sqrt(freedom / ChiSquare.Quantile((1 - question.Coverage) / 2, freedom)) - 1);
            return [new PlannedParameter("standardDeviation", "mm", standard, standard, 0, expanded / standard, expanded)];
        }

        return new PlanDesign
        {
            Model = new PlanModel { Columns = ["mean"], Targets = [new("standardDeviation", "mm", [1])], ScatterMm = expected, LimitMm = 0 },
            Templates = [.. Counts.Select(count => new PlanTemplate(Name(count), [.. Enumerable.Range(1, count).Select(Repeat)]))],
            Usual = Name(10),
            Minutes = readings => 3 + (1.2 * readings.Count),
            Naive = [new PlanWay { Name = "usual practice: three repeats, the largest difference", Readings = 3, Minutes = 7, Predicted = Told(3), Reaches = question.Reached(Told(3)[0].ExpandedUncertainty) }],
            ByCount = Told,
            Assumed = [string.Create(CultureInfo.InvariantCulture, $"Reckoned with repeats that scatter by {expected:0.####} mm; U grows in proportion.")],
        };
    }

    private static string Name(int count) => string.Create(CultureInfo.InvariantCulture, $"{count} repeats");

    private static PlanReading Repeat(int number) =>
        new(new PlanCell { Place = string.Create(CultureInfo.InvariantCulture, $"repeat {number}") }, [1], 0);
}
