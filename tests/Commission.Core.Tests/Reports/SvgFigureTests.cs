using System.Globalization;
using System.Xml.Linq;
using Commission.Core.Characteristics;
using Commission.Core.Reports;
using Xunit;

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
