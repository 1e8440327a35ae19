using Commission.Core.Instruments;
using Commission.Core.Plans;
using Commission.Core.Tests.Characteristics;

namespace Commission.Core.Tests.Plans;

public sealed class NextStepTests
{
    private static readonly Machine Heron = new() { Name = "Heron", TravelMm = [420, 580, 90], X = new AxisDescription { TravelPerTurnMm = 5, StepsPerMm = 320 } };

    private static readonly Instrument Rod = new("my rod", InstrumentKind.LengthStandard, 0.007, null, 300, "invented");

    // Ten readings whose scale error is that given, scattering by 0.02 mm.
    private static (Finding Finding, FitOptions Options) Scale(double error, string tolerance)
    {
        var plan = Planner.For(new PlanQuestion { Kind = "axis-scale", Machine = Heron }).Require();
        var low = plan.Rows.Min(row => row.Given["commanded_mm"]);
        double[] noise = [.02, -.02, .01, -.01, -.02, .02, .02, -.02, .01, -.01];
        var csv = Fit.Rows("commanded_mm,measured_mm,direction", plan.Rows.Select((row, k) => new object[]
        {
            row.Given["commanded_mm"] - low + 4, Math.Round(((row.Given["commanded_mm"] - low) * (1 + error)) + 4 + noise[k], 2), row.Words["direction"],
        }));
        var options = new FitOptions
        {
            Axis = AxisName.X, Instrument = new Instrument("caliper", InstrumentKind.CaliperDigital, 0.03, 0.01, 150, "invented"), Hand = new HandStudy("o", "caliper", 0.02, 14),
            Tolerance = ToleranceText.Parse(tolerance).Require(),
        };
        return (Fit.Of("axis-scale", csv, options), options);
    }

    [Fact]
    public void Undecided_by_a_hair_is_settled_by_more_readings_of_the_same()
    {
        // The limit lies one and a half standard uncertainties beyond the value: not decided, but near to it.
        var first = Scale(0, "250ppm").Finding.Headline;
        var limit = Math.Abs(first.Value!.Value) + (1.5 * first.StandardUncertainty!.Value);
        var (finding, options) = Scale(0, FormattableString.Invariant($"{limit * 1e6:0.0}ppm"));
        Assert.Equal(Verdict.Undecided, finding.Verdict);
        var named = NextStep.Named(finding, options, Heron, [], 146);

        Assert.Matches("^Take [0-9]+ readings more.* min: ", named.Advice.Next);
        Assert.DoesNotContain("needs", named.Advice.Next, StringComparison.Ordinal);
        Assert.Equal(finding.Parameters, named.Parameters);
    }

    [Fact]
    public void An_instrument_the_owner_has_is_named_before_anything_that_must_be_borrowed()
    {
        var (finding, options) = Scale(0, "110ppm");
        var borrowed = NextStep.Named(finding, options, Heron, [], 146).Advice.Next!;
        var owned = NextStep.Named(finding, options, Heron, [Rod], 146).Advice.Next!;

        Assert.Contains("it needs", borrowed, StringComparison.Ordinal);
        Assert.Contains("another instrument of yours", owned, StringComparison.Ordinal);
        Assert.Contains("my rod", owned, StringComparison.Ordinal);
    }

    [Fact]
    public void A_value_on_the_limit_is_told_to_lie_there()
    {
        var (finding, options) = Scale(0, "250ppm");
        var edge = Math.Abs(finding.Headline.Value!.Value) + 2e-7;
        var named = NextStep.Named(finding with { Verdict = Verdict.Undecided }, options with { Tolerance = new Tolerance(edge, "1", "edge") }, Heron, [], 146);
        Assert.StartsWith("Nothing the planner knows decides it", named.Advice.Next, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_decided_is_left_as_it_is()
    {
        var (finding, options) = Scale(0, "2000ppm");
        Assert.Equal(Verdict.Within, finding.Verdict);
        Assert.Equal(finding.Advice.Next, NextStep.Named(finding, options, Heron, [], 146).Advice.Next);
    }
}
