using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;
using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Tests.Screens.Sheets;

/// <summary>Where STOP is a line the longest time until all stands is told before a move and after STOP, in the smallest window too.</summary>
public sealed class StopWordsTests
{
    private const string Worst = "STOP is sent as a line: at worst 3 s until all stands.";

    private static DialectStop Stop(string dialect) => ShippedDialects.Find(dialect)!.Stop;

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void The_box_of_a_move_tells_it_beside_the_hazards_and_nothing_of_the_box_is_hidden(bool elsewhere)
    {
        var sheet = MotionBoxSheet.Of(new MotionBoxView
        {
            Path = "Heron / work", Axis = 'Y', Part = "THE GANTRY", Direction = "away from you", DistanceMm = 138, SpeedMmMin = 600, Path1D = (5, 143), Allowed = (5, 575),
            Hazard = new("Crushing.", "Hands out."), Elsewhere = elsewhere ? new("Elsewhere.", "Somebody stands there.") : null, Because = "a reading", Live = LiveStrip.None, Stop = MotionRules.AboutStop(Stop("letter-words")),
        });
        var shown = SheetFrame.Text(sheet);
        Assert.Contains(Worst, shown, StringComparison.Ordinal);
        Assert.Contains("support Z.", shown, StringComparison.Ordinal);
        Assert.Contains("Press Y to move Y.", shown, StringComparison.Ordinal);
        Assert.DoesNotContain("PgDn", shown, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("letter-words", true)]
    [InlineData("numbered-settings", false)]
    public void The_page_of_STOP_tells_it_where_it_is_a_line(string dialect, bool told)
    {
        var shown = SheetFrame.Text(StopSheet.Of(new StopView("Heron", "10:31:07", "F9", [("a", "b"), ("c", "d"), ("e", "f")], "readings 1 to 6 of scale Y, on disk. The next one was not taken.", LiveStrip.None)
        { WorstCase = Stop(dialect).AtWorst ?? "", Since = "the controller restarted" }));
        Assert.Equal(told, shown.Contains("at worst 3 s until all stands", StringComparison.Ordinal));
        Assert.Contains("O   I do not know", shown, StringComparison.Ordinal);
    }
}
