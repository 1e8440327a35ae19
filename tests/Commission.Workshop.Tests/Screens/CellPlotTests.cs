using Commission.Core.Characteristics;
using Commission.Workshop.Screens;

namespace Commission.Workshop.Tests.Screens;

public class CellPlotTests
{
    [Theory]
    [InlineData(5)]
    [InlineData(8)]
    [InlineData(9)]
    [InlineData(12)]
    public void A_value_that_shows_as_nought_stands_on_the_line_of_zero_from_above_as_from_below(int height)
    {
        double[] values = [0.4, -0.4, 0, 10, -10];
        var rows = CellPlot.Draw(
            new Figure
            {
                Title = "", Horizontal = "", Vertical = "", Summary = "",
                Layers = [new FigureLayer.Points("all", FigureMark.Increasing, [.. values.Select((value, i) => new FigurePoint(i, value))])],
            },
            40, height);
        var zero = Assert.Single(rows, row => row.StartsWith("   0", StringComparison.Ordinal));
        Assert.Equal(3, zero.Count(sign => sign == '>'));
    }
}
