using System.Globalization;
using System.Xml.Linq;
using Commission.Core.Reports;

namespace Commission.Core.Tests.Reports;

public sealed class SvgFigureTests
{
    private static readonly Figure Residuals = new()
    {
        Title = "Residuals <X>",
        Horizontal = "commanded position, mm",
        Vertical = "residual, mm",
        Summary = "Four residuals within 0.02 mm.",
        Layers =
        [
            new FigureLayer.Band("tolerance", -0.02, 0.02),
            new FigureLayer.Points("coming in +", FigureMark.Increasing, [new(0, 0.01, 0.005), new(100, -0.012, 0.005)]),
            new FigureLayer.Points("coming in -", FigureMark.Decreasing, [new(0, 0.004), new(100, -0.002)]),
            new FigureLayer.Line("fit", [new(0, 0), new(100, 0)], Dashed: true),
            new FigureLayer.Event("belt tightened", 40),
        ],
    };

    public static TheoryData<FigureForm> Forms => [.. Enum.GetValues<FigureForm>()];

    [Theory]
    [MemberData(nameof(Forms))]
    public void Every_form_is_well_formed_and_begins_with_its_title(FigureForm form)
    {
        var svg = XElement.Parse(SvgFigure.Write(Residuals with { Form = form }));
        Assert.Equal("title", svg.Elements().First().Name.LocalName);
        Assert.Equal("Residuals <X>", svg.Elements().First().Value);
    }

    [Fact]
    public void The_same_figure_gives_the_same_bytes_under_any_culture()
    {
        var before = CultureInfo.CurrentCulture;
        var plain = SvgFigure.Write(Residuals);
        try
        {
            CultureInfo.CurrentCulture = new CultureInfo("") { NumberFormat = { NumberDecimalSeparator = ",", NegativeSign = "\u2212" } };
            Assert.Equal(plain, SvgFigure.Write(Residuals));
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    [Fact]
    public void Bars_lie_inside_the_picture()
    {
        var svg = XElement.Parse(SvgFigure.Write(Residuals));
        var ends = svg.Descendants().Where(e => e.Name.LocalName == "line").SelectMany(e => new[] { (double)e.Attribute("y1")!, (double)e.Attribute("y2")! });
        Assert.All(ends, y => Assert.InRange(y, 0, 480));
    }

    [Theory]
    [InlineData(FigureForm.EqualScale, 300, 600)]
    [InlineData(FigureForm.EqualScale, 900, 100)]
    [InlineData(FigureForm.Map, 300, 600)]
    public void A_plane_to_scale_is_as_long_as_it_is_wide_where_the_machine_is(FigureForm form, double width, double depth)
    {
        var marks = new FigureLayer.Points("marks", FigureMark.Dot, [new(0, 0, Level: 0.1), new(width, 0, Level: 0.2), new(0, depth, Level: 0.34)]);
        var svg = XElement.Parse(SvgFigure.Write(Residuals with { Form = form, Layers = [marks] }));
        var dots = svg.Elements().Where(e => e.Name.LocalName == "circle").Take(3).Select(e => (X: (double)e.Attribute("cx")!, Y: (double)e.Attribute("cy")!)).ToArray();
        var scale = (dots[1].X - dots[0].X) / width;
        Assert.Equal(scale, (dots[0].Y - dots[2].Y) / depth, 3);
        Assert.True((double)svg.Attribute("height")! > dots[0].Y);
        Assert.Equal(form == FigureForm.Map, svg.Elements().Any(e => e.Value == "0.34"));
    }

    [Fact]
    public void Distances_are_drawn_as_commanded_and_as_crooked_as_they_were_found()
    {
        var kind = CharacteristicKinds.Find("squareness")!;
        var table = Commission.Core.Readings.CsvReadings.Read("t.csv", "x1_mm,y1_mm,x2_mm,y2_mm,distance_mm\n0,0,300,0,300\n0,0,0,400,400\n300,0,0,400,499.76\n0,0,300,400,500.24\n", kind.Columns).Require();
        var figure = kind.Picture(kind.Evaluate(table, new FitOptions()).Require(), table)!;
        var lines = figure.Layers.OfType<FigureLayer.Line>().ToArray();
        Assert.Equal(["as commanded", "", "", "", "as found, drawn 200 times as crooked", "", "", ""], lines.Select(line => line.Name));
        Assert.Equal([new(0, 0), new(0, 400)], lines[1].Values);

        // 1 mrad over 400 mm, drawn two hundred times: 80 mm, half of them at either end.
        Assert.Equal(-40, lines[5].Values[0].X, 0.1);
        Assert.Equal(40, lines[5].Values[1].X, 0.1);
    }

    [Fact]
    public void A_value_that_is_not_finite_is_refused()
    {
        var bad = Residuals with { Layers = [new FigureLayer.Points("x", FigureMark.Dot, [new(0, double.NaN)])] };
        Assert.Throws<ArgumentException>(() => SvgFigure.Write(bad));
    }

    [Theory]
    [InlineData(0.0, 0.3, 3)]
    [InlineData(-0.012, 0.034, 6)]
    [InlineData(1000.0, 1900.0, 5)]
    [InlineData(5.0, 5.0, 6)]
    public void Ticks_hold_the_range_and_are_written_without_stray_digits(double low, double high, int about)
    {
        var ticks = Ticks.Over(low, high, about);
        Assert.True(ticks.Low <= low && ticks.High >= high && ticks.High > ticks.Low);
        Assert.All(ticks.Marks, mark => Assert.Equal(mark.At, double.Parse(mark.Text, CultureInfo.InvariantCulture), Math.Abs(ticks.High - ticks.Low) * 1e-9));
    }
}
