using System.Collections.Immutable;
using System.Runtime.CompilerServices;
using System.Text;
using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Readings;
using Commission.Tests;
using Commission.Workshop.Screens;
using CsCheck;

namespace Commission.Workshop.Tests.Screens;

/// <summary>Figures in cells. The kept drawings lie in Drawings; UPDATE_GOLDEN=1 makes them anew.</summary>
public class FigureCellsTests
{
    private static readonly Instrument Caliper = new("caliper", InstrumentKind.CaliperDigital, 0.03, 0.01, 150, "invented");

    [Theory]
    [InlineData("axis-scale")]
    [InlineData("backlash")]
    [InlineData("tram")]
    [InlineData("runout")]
    [InlineData("flatness")]
    [InlineData("squareness")]
    [InlineData("drift")]
    [InlineData("test-circle")]
    public void The_picture_of_a_kind_is_drawn_as_kept_in_ASCII_and_in_Braille(string kind)
    {
        var figure = Picture(kind);
        Kept(kind + "-ascii", FigureCells.Draw(figure, 60, 22));
        Kept(kind + "-braille", FigureCells.Draw(figure, 60, 22, fine: true));
    }

    [Fact]
    public void Both_approaches_are_told_apart_without_colour()
    {
        var drawn = string.Join('\n', FigureCells.Draw(Picture("axis-scale"), 60, 20));
        Assert.Equal(5, drawn.Split('\n').Take(16).Sum(row => row.Count(c => c == '>')));
        Assert.Equal(5, drawn.Split('\n').Take(16).Sum(row => row.Count(c => c == '<')));
        Assert.Contains("> reached in + direction", drawn, StringComparison.Ordinal);
        Assert.Contains("< reached in - direction", drawn, StringComparison.Ordinal);
    }

    [Fact]
    public void ASCII_is_ASCII_and_finer_drawings_use_only_lines_and_Braille()
    {
        foreach (var kind in new[] { "axis-scale", "backlash", "tram", "flatness", "squareness", "drift" })
        {
            var figure = Picture(kind);
            Assert.All(FigureCells.Draw(figure, 70, 24), row => Assert.All(row, c => Assert.InRange(c, ' ', '~')));
            Assert.All(FigureCells.Draw(figure, 70, 24, fine: true), row => Assert.All(row, c => Assert.True(c is (>= ' ' and <= '~') or (>= '\u2500' and <= '\u257f') or (>= '\u2801' and <= '\u28ff'), $"{(int)c:x}")));
        }
    }

    [Fact]
    public void Whatever_the_values_a_drawing_keeps_to_its_room() =>
        Gen.Select(Gen.OneOf(Gen.Double[-1e6, 1e6], Gen.Int[0, 4].Select(i => new[] { 0, 1e-300, 3, -1, 3 + 1e-13 }[i])).Array[0, 12], Gen.Int[0, 140], Gen.Int[0, 50], Gen.Bool, Gen.Enum<FigureForm>()).SampleFixed(
            (values, width, height, fine, form) =>
            {
                var points = values.Select((v, i) => new FigurePoint(v, values[^(i + 1)], Bar: i % 2 == 0 ? Math.Abs(v) : null, Level: i % 3 == 0 ? v : null)).ToImmutableArray();
                var rows = FigureCells.Draw(
                    new Figure
                    {
                        Title = "t", Horizontal = "X, mm", Vertical = "Y, mm", Summary = "s", Form = form,
                        Layers = [new FigureLayer.Band("limit", -1, 1), new FigureLayer.Points("p", FigureMark.Increasing, points), new FigureLayer.Line("l", points, Dashed: fine), new FigureLayer.Event("nut set", 3)],
                    },
                    width, height, fine);
                Assert.True(rows.Length <= Math.Max(0, height), $"{rows.Length} rows of {height}");
                Assert.All(rows, row => Assert.True(row.Length <= width));
            });

    [Fact]
    public void Values_that_are_no_numbers_are_left_out()
    {
        var figure = new Figure
        {
            Title = "t", Horizontal = "x", Vertical = "y", Summary = "s",
            Layers = [new FigureLayer.Points("p", FigureMark.Dot, [new(double.NaN, 1), new(0, double.PositiveInfinity), new(1, 1), new(2, 2)])],
        };
        Assert.Equal(2, FigureCells.Draw(figure, 40, 12).Skip(1).SkipLast(1).Sum(row => row.Count(c => c == 'o')));
    }

    [Fact]
    public void The_numbers_of_a_map_are_those_of_the_report()
    {
        var figure = Picture("flatness");
        var drawn = string.Join('\n', FigureCells.Draw(figure, 60, 20));
        foreach (var level in figure.Layers.OfType<FigureLayer.Points>().Single().Values.Select(point => point.Level!.Value))
            Assert.Contains((1000 * level).ToString("+0;-0;0", System.Globalization.CultureInfo.InvariantCulture), drawn, StringComparison.Ordinal);
    }

    private static Figure Picture(string id)
    {
        var kind = CharacteristicKinds.Find(id)!;
        var (text, options) = Sets[id];
        var readings = CsvReadings.Read("set.csv", text, [.. kind.Columns]).Require();
        return kind.Picture(kind.Evaluate(readings, options).Require(), readings)!;
    }

    // Invented readings of the kind a hand takes.
    private static readonly Dictionary<string, (string Text, FitOptions Options)> Sets = new()
    {
        ["axis-scale"] = ("commanded_mm,measured_mm,direction\n204.2,8.49,+\n341.981,146.45,+\n273.091,77.45,+\n341.981,146.5,-\n204.2,8.54,-\n204.2,8.54,-\n341.981,146.51,-\n273.091,77.51,-\n341.981,146.43,+\n204.2,8.5,+\n", new() { Axis = AxisName.Y, Instrument = Caliper }),
        ["backlash"] = ("place_mm,direction,reading_mm\n" + string.Join('\n', new[] { 60, 290, 520 }.SelectMany((place, i) => Enumerable.Range(0, 4).Select(n => FormattableString.Invariant($"{place},{(n % 2 == 0 ? '+' : '-')},{(n % 2 == 0 ? 0.002 : 0.048 + (0.006 * i)) + (0.001 * n):0.000}")))) + "\n", new() { Axis = AxisName.Y, Instrument = Caliper }),
        ["tram"] = ("angle_deg,reading_mm\n0,0.00\n45,-0.05\n90,-0.09\n135,-0.08\n180,-0.04\n225,0.02\n270,0.06\n315,0.04\n", new() { Instrument = Caliper, Numbers = ImmutableDictionary<string, double>.Empty.Add("radius-mm", 100) }),
        ["runout"] = ("angle_deg,reading_mm,height_mm\n0,0.000,20\n90,0.012,20\n180,0.024,20\n270,0.011,20\n0,0.000,40\n90,0.020,40\n180,0.041,40\n270,0.018,40\n", new() { Instrument = Caliper }),
        ["flatness"] = ("x_mm,y_mm,z_mm\n20,20,0\n210,20,0.05\n400,20,-0.03\n20,290,-0.16\n210,290,-0.05\n400,290,-0.08\n20,560,-0.31\n210,560,-0.15\n400,560,-0.12\n", new() { Instrument = Caliper }),
        ["squareness"] = ("x1_mm,y1_mm,x2_mm,y2_mm,distance_mm\n30,30,390,30,360.45\n390,30,390,550,520.28\n390,550,30,550,360.40\n30,550,30,30,520.30\n30,30,390,550,632.53\n390,30,30,550,633.08\n", new() { Instrument = Caliper }),
        ["drift"] = ("day,value,uncertainty,change\n0,0.051,0.004,\n20,0.054,0.004,\n48,0.057,0.004,\n80,0.055,0.004,\n110,0.060,0.004,nut set\n140,0.063,0.004,\n", new() { }),
        ["test-circle"] = ("angle_deg,turning,diameter_mm\n" + string.Join('\n', new[] { "cw", "ccw" }.SelectMany((turning, j) => Enumerable.Range(0, 8).Select(i => FormattableString.Invariant($"{i * 22.5},{turning},{80.02 + (0.06 * Math.Sin(i * Math.PI / 4)) + (0.02 * j):0.000}")))) + "\n", new() { Instrument = Caliper, Numbers = ImmutableDictionary<string, double>.Empty.Add("nominal-mm", 80) }),
    };

    private static void Kept(string name, IEnumerable<string> rows, [CallerFilePath] string here = "")
    {
        var file = Path.Combine(Path.GetDirectoryName(here)!, "Drawings", name + ".txt");
        var drawn = string.Join('\n', rows) + "\n";
        if (Environment.GetEnvironmentVariable("UPDATE_GOLDEN") == "1")
        {
            Directory.CreateDirectory(Path.GetDirectoryName(file)!);
            File.WriteAllText(file, drawn, new UTF8Encoding(false));
            return;
        }

        Assert.True(File.Exists(file), $"{name} was never kept: run once with UPDATE_GOLDEN=1");
        Assert.True(File.ReadAllText(file).ReplaceLineEndings("\n") == drawn, $"{name} has changed. Now:\n{drawn}");
    }
}
