using Commission.Core.Characteristics;
using Commission.Core.Machines;
using Commission.Core.Quantities;
using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Tests.Screens.Sheets;

/// <summary>A finding that leaves and one that changes, against the interaction design's. Numbers are those of its invented router Heron.</summary>
public class FindingSheetTests
{
    private const string Day = "Sat 18 Apr 2026";

    private static readonly FitOptions Told = new() { Axis = AxisName.X, TravelMm = 400, Tolerance = new Tolerance(5e-4, "1", "500ppm"), Drive = DriveKind.Screw };

    private static string[] Rows(Finding finding, FitOptions options, string name, LiveStrip live) =>
        SheetFrame.Text(FindingSheet.Of("Heron / findings / " + name, name, finding, options, live, on: Day)).TrimEnd('\n').Split('\n');

    private static Finding Leave => new()
    {
        Kind = "axis-scale", Method = "axis-scale/2", Rows = 10, Used = 10, Verdict = Verdict.Within,
        Parameters =
        [
            new FittedParameter { Name = "scaleError", Unit = "1", Value = 160e-6, StandardUncertainty = 150.1e-6, CoverageFactor = 1.97, ExpandedUncertainty = 295e-6 },
            new FittedParameter { Name = "scaleErrorGivenGrade", Unit = "1", Value = 50.2e-6, StandardUncertainty = 83.2e-6, CoverageFactor = 1.97, ExpandedUncertainty = 164e-6 },
        ],
        Budget = [new("limit of error of the instrument", 0.70, false), new("scatter of the readings", 0.26, true), new("tilt of the jaws", 0.03, true)],
        Advice = new Advice { Action = AdviceAction.Leave, Because = "+160 ppm with U 300 ppm is consistent with a screw of this grade, which may be off by 173 ppm itself." },
    };

    [Fact]
    public void S08_a_finding_that_leaves_it()
    {
        var (shown, drawn) = (Rows(Leave, Told, "scale X", LiveStrip.None), Wireframe.Rows("S08-finding-leave"));
        Assert.Equal(drawn[..4], shown[..4]);
        // The end of the bar lies half a cell from where it was drawn.
        Assert.Equal(drawn[4][..57], shown[4][..57]);
        Assert.Equal(drawn[4].Length, shown[4].Length);
        Assert.Equal(drawn[5], shown[5]);
        // The axis is named.
        Assert.Equal(drawn[7].Replace("the axis", "axis X", StringComparison.Ordinal), shown[7]);
        // Posterior of +163.5 with u 150.1 under a prior of 100: 50.2 with u 83.2, so sqrt(50.2^2 + 83.2^2) = 97 ppm remain, the design's 100; what was measured has u 150.
        Assert.Contains("             leaving it     about 100 ppm likely remain (the screw's papers)", shown);
        Assert.Contains("             changing it    about 150 ppm (the instrument's error goes into it)", shown);
        Assert.Contains(" U comes   instrument's limit 70 %   reading scatter 26 %   tilt of the jaws 3 %", shown);
        Assert.Contains(shown, row => row.Contains("Reading more often will not help: 70 % ", StringComparison.Ordinal));
        Assert.Equal(drawn[23], shown[23]);
    }

    private static Finding Change => new()
    {
        Kind = "axis-scale", Method = "axis-scale/2", Rows = 10, Used = 10, Verdict = Verdict.Outside,
        Parameters = [new FittedParameter { Name = "scaleError", Unit = "1", Value = 1234.1e-6, StandardUncertainty = 149.3e-6, CoverageFactor = 1.97, ExpandedUncertainty = 293.7e-6 }],
        Advice = new Advice
        {
            Action = AdviceAction.Change, Because = "A change makes the axis better with odds of 1000 to 1 or more; the scale error to remove is +1230 ppm.",
            Setting = new ProposedSetting { Name = "stepsPerMm", Axis = "Y", ExpressedAs = "steps/mm", Current = 320, Proposed = 319.6056, AsStored = 319.606, RoundingError = 0.0004, StandardUncertainty = 0.0469 },
        },
    };

    // Found in use: in inches the column that tells what is left over, and its limit, ran over the edge.
    [Theory]
    [InlineData("steps/mm", 320, 319.606, 0.0469)]
    [InlineData("steps/in", 8128, 8117.992, 1.1913)]
    public void In_inches_no_number_of_a_change_is_cut(string expressedAs, double current, double stored, double u)
    {
        var finding = Change with { Advice = Change.Advice with { Setting = Change.Advice.Setting! with { ExpressedAs = expressedAs, Current = current, Proposed = stored, AsStored = stored, StandardUncertainty = u } } };
        var sheet = FindingSheet.Of("Heron / findings / scale Y", "scale Y", finding, Told with { Axis = AxisName.Y, TravelMm = 406.4 }, LiveStrip.None, ShownUnits.Inches, Day);
        Assert.All(sheet.Body, line => Assert.InRange(line.Text.TrimEnd().Length, 0, SheetFrame.LeastWidth));
        Assert.Contains(sheet.Body, line => line.Text.EndsWith("left over 16 in: about 0 +/- 0.0047 in", StringComparison.Ordinal));
        Assert.Contains("   1  it matters for the work           0.0197 > 0.0020 in, a quarter of limit", sheet.Body.Select(line => line.Text));
        Assert.Contains(sheet.Body, line => line.Text.Contains("the change makes it smaller", StringComparison.Ordinal) && line.Text.EndsWith("0.0047 < 0.0197 in", StringComparison.Ordinal));
    }

    [Fact]
    public void S09_a_finding_that_changes()
    {
        var (shown, drawn) = (Rows(Change, Told with { Axis = AxisName.Y }, "scale Y", LiveStrip.None), Wireframe.Rows("S09-finding-change"));
        Assert.Equal(drawn[..4], shown[..4]);
        // The bar was drawn one cell nearer than 1234 of 500 lies: 11 cells a limit, so 27 and, with g, 22 to 33 cells from zero.
        Assert.Equal(drawn[4][..51], shown[4][..51]);
        Assert.Equal("          <====o=====>", shown[4][51..]);
        Assert.Equal(drawn[5], shown[5]);
        Assert.Equal(drawn[6].Replace("the axis", "axis Y", StringComparison.Ordinal), shown[6]);
        // The decision rule is the design's: odds, then M 2.9 b, c and e.
        Assert.Equal(drawn[8], shown[8]);
        // 320 / 319.606 - 1 = 0.001233: the value as the controller keeps it.
        Assert.Equal(drawn[9].Replace("0.001234", "0.001233", StringComparison.Ordinal), shown[9]);
        Assert.Contains(drawn[13].Replace("   2  ", "   1  ", StringComparison.Ordinal), shown);
        Assert.Contains("   2  too small for a wrong lead        1234 < 5000 ppm", shown);
        Assert.Contains(drawn[16].Replace("   5  ", "   3  ", StringComparison.Ordinal), shown);
        Assert.Contains(shown, row => row.StartsWith(" Then      stale, to be checked again: axis scale", StringComparison.Ordinal));
        Assert.Equal(drawn[20..22], shown[20..22]);
        Assert.StartsWith(" Enter difference  O leave as is  D all numbers", shown[23], StringComparison.Ordinal);
        Assert.DoesNotContain(shown, row => row.Contains("more lines", StringComparison.Ordinal));
    }

    [Fact]
    public void Without_a_limit_or_a_grade_nothing_is_said_that_hangs_on_them()
    {
        Assert.DoesNotContain(Rows(Change, Told with { Tolerance = null }, "scale Y", LiveStrip.None), row => row.Contains("must hold", StringComparison.Ordinal));
        Assert.DoesNotContain(Rows(Leave with { Parameters = [Leave.Parameters[0]] }, Told, "scale X", LiveStrip.None), row => row.Contains("leaving it", StringComparison.Ordinal));
    }
}
