using Commission.Core.Plans;
using Commission.Tests;
using CsCheck;

namespace Commission.Core.Tests.Plans;

public sealed class AxisPlanTests
{
    private static AxisPlanRequest Request(double travel, double period, double? range = 150) =>
        new() { Axis = AxisName.X, TravelMm = travel, PeriodMm = period, InstrumentRangeMm = range };

    [Theory]
    [InlineData(5)]
    [InlineData(8)]
    [InlineData(40)]
    public void A_periodic_error_of_the_drive_adds_nothing_to_the_scale_and_nothing_to_the_reversal(double period)
    {
        // Quarter steps cancel the fundamental in each end group; two of each direction do so within the direction.
        var cells = AxisPlan.For(Request(420, period)).Require();
        foreach (var place in new[] { "near", "far" })
        {
            foreach (var direction in new[] { "+", "-" })
            {
                var sum = cells.Where(cell => cell.Place == place && cell.Words["direction"] == direction)
                    .Sum(cell => Math.Sin((2 * Math.PI * cell.Given["commanded_mm"] / period) + 0.7));
                Assert.Equal(0, sum, 0.002);
            }
        }
    }

    [Fact]
    public void Ten_readings_balanced_in_direction_start_and_end_at_the_near_end()
    {
        var cells = AxisPlan.For(Request(420, 5)).Require();
        Assert.Equal(10, cells.Length);
        Assert.Equal(5, cells.Count(cell => cell.Approach == Approach.Increasing));
        Assert.Equal("near", cells[0].Place);
        Assert.Equal("near", cells[^1].Place);
        Assert.Equal([4, 2, 4], new[] { "near", "middle", "far" }.Select(place => cells.Count(cell => cell.Place == place)));
    }

    // Own arithmetic: drift of one unit a reading biases the slope of ten readings far less in balanced order than from end to end.
    [Fact]
    public void A_steady_drift_hardly_touches_the_scale_in_the_order_of_the_plan()
    {
        double[] places = [.. AxisPlan.For(Request(420, 5)).Require().Select(cell => cell.Given["commanded_mm"])];
        Assert.True(Math.Abs(Bias(places)) < 0.1 * Math.Abs(Bias([.. places.Order()])));
    }

    private static double Bias(double[] places)
    {
        var mean = places.Average();
        return places.Select((place, i) => (place - mean) * i).Sum() / places.Sum(place => (place - mean) * (place - mean));
    }

    [Fact]
    public void A_travel_shorter_than_two_periods_is_refused_in_words()
    {
        var bad = Assert.IsType<Outcome<System.Collections.Immutable.ImmutableArray<PlanCell>>.Bad>(AxisPlan.For(Request(60, 40)));
        Assert.Contains("twice the period", bad.Problems[0].What, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_position_and_its_overrun_lies_inside_the_travel_and_the_span_inside_the_instrument() =>
        Gen.Select(Gen.Double[40, 2000], Gen.Double[1, 80], Gen.Double[100, 600], Gen.Double[5, 1000]).SampleFixed((travel, period, range, steps) =>
        {
            var plan = AxisPlan.For(Request(travel, period, range) with { StepsPerMm = steps });
            if (plan is not Outcome<System.Collections.Immutable.ImmutableArray<PlanCell>>.Good good) return true;
            var all = good.Value.SelectMany(cell => cell.GoTo).Select(position => position.Mm).ToArray();
            var read = good.Value.Select(cell => cell.Given["commanded_mm"]).ToArray();
            return all.All(mm => mm >= 0 && mm <= travel) && read.Max() - read.Min() <= range;
        });

    [Fact]
    public void Positions_lie_on_whole_steps_as_far_as_they_can_be_typed()
    {
        var cells = AxisPlan.For(Request(420, 5) with { StepsPerMm = 80 }).Require();
        Assert.All(cells, cell => Assert.Equal(Math.Round(cell.Given["commanded_mm"] * 80) / 80, cell.Given["commanded_mm"], 0.00051));
    }
}
