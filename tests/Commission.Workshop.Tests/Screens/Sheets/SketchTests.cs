using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Tests.Screens.Sheets;

/// <summary>Dial, bed and four marks against the drawings of the interaction design.</summary>
public class SketchTests
{
    [Fact]
    public void S15_the_dial_as_one_sees_it_from_above()
    {
        var wireframe = Wireframe.Rows("S15-tram");
        double[] hundredths = [0, -5, -9, -8, -4, 2, 6, 4];
        var body = TramSheet.Body(new TramView
        {
            Points = [.. hundredths.Select((value, i) => (i * 45.0, (value + 31) / 100))], Sweep = (0.00019, -0.00071), Spindle = (0.00013, -0.00062),
            SlopeUncertainty = "+/- 0.12  (k=2.09)", Over = "over 200 mm: 0.127 +/- 0.024 mm", Limit = "limit 0.050", Verdict = "OUTSIDE", Strip = "[       |        <==o==>", Scale = "0      0.05       0.127",
            Disposition = "CHANGE  by shim, bolts 80 mm apart",
        });
        Assert.Equal(wireframe[2..14], body.Take(12).Select(line => line.Text));
    }

    [Theory]
    [InlineData(1, 0, 5, 19)]
    [InlineData(0, 1, 3, 13)]
    [InlineData(-1, 0, 5, 5)]
    [InlineData(-1, -1, 7, 9)]
    public void The_lean_is_marked_where_the_surface_is_nearest(double x, double y, int row, int column)
    {
        var body = TramSheet.Body(new TramView { Points = [(0, 0)], Spindle = (x, y), Over = "", Limit = "", Disposition = "" });
        Assert.Equal('#', body[row].Text[column]);
    }

    [Fact]
    public void S16_hills_and_hollows_show_without_colour()
    {
        int[][] heights = [[-31, -22, -15, -12, -12], [-24, -15, -8, -8, -10], [-16, -10, -5, -4, -8], [-9, -4, -1, 0, -5], [0, 5, 5, 3, -3]];
        int[][] off = [[-8, -2, 3, 4, 2], [-6, 0, 5, 3, -1], [-3, 0, 3, 2, -4], [-1, 2, 2, 1, -6], [3, 5, 3, -1, -9]];
        int[] xs = [20, 115, 210, 305, 400], ys = [560, 425, 290, 155, 20];
        // The first point that was read is the one that the heights count from: front left.
        var points = ys.SelectMany((y, i) => xs.Select((x, j) => new BedPoint(x, y, heights[i][j] / 100.0, off[i][j] / 100.0))).OrderBy(point => point.Y).ThenBy(point => point.X);
        Assert.Equal(Wireframe.Rows("S16-bed")[2..10], BedMapSheet.Maps([.. points]).Select(line => line.Text.TrimEnd()));
    }

    [Fact]
    public void What_rounds_to_zero_has_no_minus_and_the_doubled_sign_is_told()
    {
        BedPoint[] points = [new(0, 0, 0, -0.004), new(100, 0, 0, 0.004), new(0, 100, 0, 0.09), new(100, 100, 0, -0.09)];
        var maps = BedMapSheet.Maps([.. points]);
        Assert.DoesNotContain(maps, line => line.Text.Contains("-0 ", StringComparison.Ordinal) || line.Text.TrimEnd().EndsWith("-0", StringComparison.Ordinal));
        Assert.Contains(maps, line => line.Text.TrimEnd().EndsWith("++9  --9", StringComparison.Ordinal));
        Assert.Equal("doubled sign = beyond 0.030 mm", BedMapSheet.Legend([.. points]).Text.Trim());
    }

    [Fact]
    public void A_map_with_more_places_than_a_sheet_has_room_for_is_left_to_the_numbers() =>
        Assert.Empty(BedMapSheet.Maps([.. Enumerable.Range(0, 10).Select(i => new BedPoint(i, 0, 0, 0))]));

    [Fact]
    public void S14_two_diagonals_and_which_way_they_lean()
    {
        var (a, b, c, d) = ((30.0, 30.0), (390.0, 30.0), (390.0, 550.0), (30.0, 550.0));
        MarkDistance[] six = [new(a, b, 360.45), new(d, c, 360.40), new(a, d, 520.30), new(b, c, 520.28), new(a, c, 633.08), new(b, d, 632.50), new(d, b, 632.56)];
        var sketch = SquarenessSheet.Sketch([.. six], leansRight: true);
        Assert.Equal(Wireframe.Rows("S14-squareness")[3..12].Select(row => row.PadRight(46)[..42].TrimEnd()), sketch);
        var other = SquarenessSheet.Sketch([.. six], leansRight: false);
        Assert.StartsWith("  D - - - -  360.40", other[0], StringComparison.Ordinal);
        Assert.StartsWith("          A - - - -  360.45", other[^1], StringComparison.Ordinal);
        Assert.Empty(SquarenessSheet.Sketch([.. six, new((100, 100), a, 98.99)], leansRight: true));
    }
}
