using Commission.Workshop.Screens;

namespace Commission.Workshop.Tests.Screens;

public class RunningLineTests
{
    // Ten exact readings with lost motion 0.05: the line takes slope and both heights; one slip of 18 mm stands out whole.
    [Fact]
    public void A_slip_stands_out_and_bends_nothing()
    {
        double[] at = [10, 150, 80, 150, 10, 10, 150, 80, 150, 10];
        var points = at.Select((a, i) => new LinePoint(a, i is < 3 or > 7, (1.001 * a) - (i is < 3 or > 7 ? 0.05 : 0) + (i == 6 ? 18 : 0))).ToList();
        var line = RunningLine.Through(points)!;
        Assert.Equal(1.001, line.Slope, 9);
        Assert.Equal(18, line.Off(points[6]), 6);
        Assert.All(points.Where((_, i) => i != 6), point => Assert.Equal(0, line.Off(point), 6));
    }

    [Fact]
    public void Two_readings_or_one_place_draw_no_line()
    {
        Assert.Null(RunningLine.Through([new(10, true, 1), new(20, true, 2)]));
        Assert.Null(RunningLine.Through([new(10, true, 1), new(10, true, 2), new(10, false, 2)]));
    }

    // The blocks were bumped by 0.7 mm after the fifth of ten exact readings: nothing lies off, and the slope is that of the axis.
    [Fact]
    public void A_zero_that_moved_is_no_slip()
    {
        double[] at = [10, 150, 80, 150, 10, 10, 150, 80, 150, 10];
        var points = at.Select((a, i) => new LinePoint(a, i is < 3 or > 7, (1.001 * a) - (i is < 3 or > 7 ? 0.05 : 0) + (i > 4 ? 0.7 : 0), i > 4 ? "2" : "")).ToList();
        var line = RunningLine.Through(points)!;
        Assert.Equal(1.001, line.Slope, 9);
        Assert.All(points, point => Assert.Equal(0, line.Off(point), 6));
        Assert.Equal(4, line.Taken);
    }

    // Found in use: "scatter of a reading 0.000 mm" after three readings of two zeros, which the line goes through whatever they are.
    [Theory]
    [InlineData(2, true, "")]
    [InlineData(3, true, "2")]
    [InlineData(3, false, "")]
    public void A_line_tells_how_many_readings_it_took(int taken, bool lastUp, string lastZero) =>
        Assert.Equal(taken, RunningLine.Through([new(10, true, 10), new(80, true, 80.1), new(150, lastUp, 149.9, lastZero)])!.Taken);
}
