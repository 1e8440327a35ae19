using Commission.Core.Characteristics;
using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Tests.Screens.Sheets;

/// <summary>The wide table of readings against the interaction design's. Its numbers are those of the invented router Heron.</summary>
public class WideReadingsTests
{
    private static ReadingsView Readings => new()
    {
        Path = "Heron / work / scale Y / 3 read", Instrument = "caliper 150", Unit = "mm", Now = 6, TargetHidden = true, Today = "Sat 18 Apr 2026", MinutesLeft = 11,
        Live = new LiveStrip("link rest . cmd X 144.200  Y  hidden   Z  -5.000 . position trusted", Stops: true),
        Lines =
        [
            new(1, "near", '>') { Reading = "8.49", OffLineUm = 7, Commanded = "204.200", At = "10:12" }, new(2, "far", '>') { Reading = "146.45", OffLineUm = 7, Commanded = "341.981", At = "10:15" },
            new(3, "middle", '>') { Reading = "77.45", OffLineUm = -13, Commanded = "273.091", At = "10:17" }, new(4, "far", '<') { Reading = "146.50", OffLineUm = 0.3, Commanded = "341.981", At = "10:20" },
            new(5, "near", '<') { Reading = "8.54", OffLineUm = 0.1, Commanded = "204.200", At = "10:23" }, new(6, "near", '<') { Reading = "8.54", OffLineUm = 0, Commanded = "204.200", At = "10:25" },
            new(7, "far", '<'), new(8, "middle", '<'), new(9, "far", '>'), new(10, "near", '>'),
        ],
        Picture = new Figure
        {
            Title = "distance from the line", Horizontal = "commanded, mm", Vertical = "um", Summary = "Distances.",
            Layers =
            [
                new FigureLayer.Points("came in +", FigureMark.Increasing, [new(204.2, 7), new(341.981, 7), new(273.091, -13)]),
                new FigureLayer.Points("came in -", FigureMark.Decreasing, [new(341.981, 0.3), new(204.2, 0.1), new(204.2, 0)]),
            ],
        },
        PictureWords = [(204.2, "near"), (273.091, "middle"), (341.981, "far")],
        With =
        [
            ("with", "caliper 150, jaws outside, near the beam\nlimit of error 0.030; your hand 0.016 (14 dof)"), ("warm", "20 deg C, screw and caliper in one room"),
            ("order", "near far middle far near, and back: a slow drift falls out of the scale"), ("blocks", "tight since 10:08"),
        ],
        SoFar = ["the lines of the small sheet"],
        SoFarWide = ["moves as commanded within 1 %", "right axis, right lead", "scatter      0.015 mm            your hand: 0.016", "expected U after reading 10      300 ppm"],
        Budget = [("caliper own scale", 0.59), ("reading scatter", 0.38), ("jaw tilt", 0.03), ("temperature", 0.01)],
        Below = ["Value and verdict after reading 10: looking early: 18 % false alarms for 5.", "All six are on disk. Closing now loses nothing but the zero of the caliper."],
        Step = ("Far, coming from above. Rock, smallest value, lock, type it. Enter.", "The gantry stands still there. What it should read is shown afterwards."),
        Keys =
        [
            new("Enter", "accept", "accept"), new("R", "read last again", "again"), new("E", "leave one out", "exclude"), new("G", "large", "large"), new("V", "readings", "raw"), new("N", "note", "note"),
            new("P", "plans", "plans"), new("D", "numbers", "so-far"), new("F2", "card", "card"),
        ],
    };

    [Fact]
    public void S24_the_wide_table_of_readings()
    {
        var shown = SheetFrame.Text(ReadingsSheet.Of(Readings, 120, 40), 120, 40).TrimEnd('\n').Split('\n');
        var drawn = Wireframe.Rows("S24-readings-wide");
        const int Picture = 62;
        for (var row = 0; row < drawn.Length; row++)
        {
            // The picture was drawn by hand; its rows are compared up to it, and its marks and labels below.
            if (row is >= 3 and < 23)
                Assert.Equal(Left(drawn[row]), Left(shown[row]));
            else
                Assert.Equal(drawn[row], shown[row]);
        }

        var picture = shown[3..23].Select(row => row.PadRight(Picture)[Picture..]).ToList();
        Assert.Equal(6, picture.Sum(row => row.Count(mark => mark is '<' or '>')));
        Assert.Contains(picture, row => row.TrimStart().StartsWith("+20", StringComparison.Ordinal));
        Assert.Contains(picture, row => row.TrimStart().StartsWith("-20", StringComparison.Ordinal));
        Assert.Contains(picture, row => row.Split(' ', StringSplitOptions.RemoveEmptyEntries) is ["near", "middle", "far"]);
        static string Left(string row) => row.PadRight(Picture)[..Picture].TrimEnd();
    }

    [Fact]
    public void Without_a_plan_nothing_is_said_of_U_and_the_frame_holds()
    {
        var rows = SheetFrame.Text(ReadingsSheet.Of(Readings with { Budget = [], SoFarWide = [], Below = [], MinutesLeft = null, Picture = null }, 200, 60), 200, 60).TrimEnd('\n').Split('\n');
        Assert.DoesNotContain(rows, row => row.Contains("WHERE U", StringComparison.Ordinal) || row.Contains("min left", StringComparison.Ordinal));
        Assert.Contains(rows, row => row == "   the lines of the small sheet");
        Assert.Equal(60, rows.Length);
    }
}
