using System.Collections.Immutable;
using Commission.Core.Quantities;
using Commission.Core.Upkeep;
using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Tests.Screens.Sheets;

/// <summary>The control chart against the interaction design's. Its numbers are those of the invented router Heron.</summary>
public class TrendSheetTests
{
    private static readonly (int Month, int Day, double Value)[] Results = [(4, 11, 0.050), (5, 11, 0.052), (6, 20, 0.055), (7, 25, 0.058), (8, 17, 0.061), (10, 4, 0.064), (10, 17, 0.065)];

    private static DateTimeOffset On(int month, int day) => new(2026, month, day, 9, 0, 0, TimeSpan.Zero);

    private static TrendView LostMotion => new()
    {
        Machine = "Heron", Item = "backlash", Title = "lost motion Y", Unit = "mm", Limit = 0.08, LimitTyped = "0.08mm",
        Points =
        [
            new TrendPoint(3, On(4, 4), 0.118, 0.006, 2, 0.003, "dial", 0.118, false, 1),
            // The line ends a little below the last result.
            .. Results.Select((result, i) => new TrendPoint(10 + i, On(result.Month, result.Day), result.Value, 0.006, 2, 0.003, "dial", i == Results.Length - 1 ? 0.064 : result.Value, false, 2)),
        ],
        Events = [new(5, On(4, 11).AddHours(-2), "nut-set", "Nut set", true), new(14, On(10, 3), "crash", "Crash, or motion was blocked", false)],
        Slope = new TrendSlope(0.00215, 0.0011, 2.57, 7, 0, true), NextCheck = On(11, 12), EarliestReach = new DateTimeOffset(2027, 1, 7, 9, 0, 0, TimeSpan.Zero),
        NextElse = On(12, 22), NextBecause = "at most twice the last gap of 13 days", Changed = "It drifts.",
        Remarks = ["Crash, or motion was blocked: no step: 4 Oct and 17 Oct lie on the line within their own spread"],
    };

    private static string[] Rows(TrendView trend, int? chosen = null, int width = 80, int height = 24) =>
        SheetFrame.Text(TrendSheet.Of(new TrendSheetView("Heron", trend, ShownUnits.Millimetres, On(10, 17), 5, chosen, LiveStrip.None) { Places = 1 }, width, height), width, height).TrimEnd('\n').Split('\n');

    [Fact]
    public void S17_the_trend()
    {
        var (shown, drawn) = (Rows(LostMotion), Wireframe.Rows("S17-trend"));
        // The wireframe's chart was drawn by hand; ruler, limit, lines of the changes and the first result are compared with it.
        Assert.Equal(drawn[..2], shown[..2]);
        Assert.Equal(drawn[2][..24], shown[2][..24]);
        Assert.Equal(drawn[2].IndexOf(':', StringComparison.Ordinal), shown[2].IndexOf(':', StringComparison.Ordinal));
        Assert.Equal([.. drawn[3..14].Select(row => row[..10])], [.. shown[3..14].Select(row => row[..10].Replace("-", "", StringComparison.Ordinal).PadRight(10))]);
        Assert.Equal(drawn[4], shown[4]);
        Assert.All(shown[3..14], row => Assert.Equal('\'', row[55]));
        Assert.Equal(11, shown[11].IndexOf('o', StringComparison.Ordinal));
        Assert.Equal(65, shown[13].IndexOf('^', StringComparison.Ordinal));
        Assert.Equal(7, shown[3..14].Sum(row => row.Count(mark => mark == 'o')));
        Assert.Equal(drawn[14].Split(' ', StringSplitOptions.RemoveEmptyEntries), shown[14].Split(' ', StringSplitOptions.RemoveEmptyEntries));
        Assert.Equal(drawn[15], shown[15]);
        Assert.Equal(drawn[17], shown[17]);
        Assert.Equal(drawn[18..], shown[18..]);
    }

    // The ratio check's limit of 10000 ppm was once cut to 1000.
    [Fact]
    public void The_numbers_of_the_ruler_stand_whole_however_long_they_are()
    {
        var shown = Rows(LostMotion with
        {
            Item = "ratio-check",
            Title = "ratio X",
            Unit = "1",
            Limit = 0.01,
            LimitTyped = "10000ppm",
            Points = [.. LostMotion.Points.Select(point => point with { Value = -point.Value / 10, Expanded = 0.0006, Level = -point.Value / 10 })],
        });
        Assert.Contains(shown, row => row.StartsWith(" -10000 ", StringComparison.Ordinal) && row.Contains("_ _", StringComparison.Ordinal));
        Assert.All(shown[3..14].Where(row => row.Length > 1 && row[1] == '-'), row => Assert.EndsWith("000", row.TrimStart().Split(' ')[0]));
    }

    [Fact]
    public void In_plain_lines_the_same_chart_fits_80_by_24_with_what_the_report_says_below()
    {
        var (lines, shown) = (TrendSheet.Lines(LostMotion, ShownUnits.Millimetres), Rows(LostMotion));
        Assert.True(lines.Length <= 24, string.Join('\n', lines));
        Assert.All(lines, line => Assert.True(line.Length <= 80 && line.All(letter => letter is >= ' ' and <= '~'), line));
        Assert.Equal("Heron / trend / lost motion Y, epoch 2 since 11 Apr 2026", lines[0]);
        Assert.Equal(shown[3..14].Select(row => row.Count(mark => mark is 'o' or ':' or '|')), lines.Skip(2).Take(11).Select(row => row.Count(mark => mark is 'o' or ':' or '|')));
        Assert.Equal(string.Join(' ', Core.Reports.TrendText.Told(LostMotion)), string.Join(' ', lines.SkipWhile(line => !line.StartsWith("Now: ", StringComparison.Ordinal))));
    }

    [Fact]
    public void What_may_be_passed_already_and_what_was_due_is_not_called_nothing_to_do()
    {
        Assert.Equal("NEXT >> Look again by Thu 12 Nov 2026, 1 place, 5 min.", Rows(LostMotion with { EarliestReach = On(10, 17) })[20]);
        Assert.Equal("NEXT >> Look again: due since Fri 16 Oct 2026, 1 place, 5 min.", Rows(LostMotion with { NextCheck = On(10, 16) })[20]);
    }

    [Fact]
    public void Twenty_years_with_both_limits_and_two_events_on_one_day_stay_in_the_frame()
    {
        var years = LostMotion with
        {
            Title = "axis scale X",
            Unit = "1",
            Limit = 500e-6,
            Slope = null,
            WhyNoSlope = "a drift needs five results of one epoch over three spacings",
            NextCheck = null,
            EarliestReach = null,
            Points = [.. Enumerable.Range(0, 240).Select(i => new TrendPoint(i, On(4, 4).AddMonths(i), (i % 7 - 3) * 40e-6, 300e-6, 2, 150e-6, null, 0, i == 100, 1))],
            Events = [new(500, On(4, 4).AddYears(19), "drive-part-replaced", "Nut, coupling or bearing replaced", false), new(501, On(4, 4).AddYears(19), "crash", "Crash", false)],
        };
        foreach (var (width, height) in ((int, int)[])[(80, 24), (120, 40), (200, 60)])
        {
            var shown = Rows(years, chosen: 3, width, height);
            Assert.Equal(height, shown.Length);
            Assert.All(shown, row => Assert.True(row.Length <= width && row.All(letter => letter is >= ' ' and <= '~'), row));
            Assert.Equal(2, shown.Count(row => row.Contains("_ _ _", StringComparison.Ordinal)));
            Assert.Contains(shown, row => row.Contains("2030", StringComparison.Ordinal));
            Assert.Contains(shown, row => row.Contains("drive part replaced 4 Apr", StringComparison.Ordinal));
            Assert.Contains(shown, row => row.Contains("crash 4 Apr", StringComparison.Ordinal));
            Assert.Contains(shown, row => row.StartsWith(" Drift   none given", StringComparison.Ordinal));
        }

    }

    // Found in use: three results of one morning stood on one column, drawn over each other, and a change written after them over all.
    [Fact]
    public void Results_of_one_day_stand_side_by_side_in_their_order_and_a_change_after_them_behind_them()
    {
        TrendPoint Of(int number, double value, bool alarm = false) => new(number, On(4, 4).AddMinutes(10 * number), value, 0.0001, 2, 0.00005, null, value, alarm, 1);
        var morning = LostMotion with
        {
            Points = [Of(1, 0.010), Of(2, 0.030), Of(3, 0.060, alarm: true)],
            Events = [new(4, On(4, 4).AddMinutes(45), "steps-changed", "Steps per millimetre changed", true)],
            Slope = null,
            WhyNoSlope = "too few",
            NextCheck = On(4, 11),
        };
        var shown = Rows(morning);
        var legend = Array.FindIndex(shown, row => row.StartsWith(" o result", StringComparison.Ordinal));
        var chart = shown[3..(legend - 1)];
        int Column(char mark, int skip = 0) => chart.SelectMany(row => row.Select((c, column) => (c, column))).Where(cell => cell.c == mark && cell.column > 6).Select(cell => cell.column).Order().Skip(skip).First();
        Assert.Equal(2, chart.Sum(row => row.Count(mark => mark == 'o')));
        Assert.Equal(1, chart.Sum(row => row.Count(mark => mark == 'x')));
        Assert.Equal([2, 2], [Column('o', 1) - Column('o'), Column('x') - Column('o', 1)]);
        Assert.Equal(Column('x') + 1, Column(':'));
        Assert.Contains("x does not follow", shown[legend] + shown[legend + 1], StringComparison.Ordinal);
        Assert.Contains(": new epoch", shown[legend] + shown[legend + 1], StringComparison.Ordinal);
        // Narrow as it is nothing leaves the sheet.
        var many = morning with { Points = [.. Enumerable.Range(1, 60).Select(number => Of(number, 0.001 * number))], Events = [] };
        Assert.Equal(60, Rows(many)[3..].TakeWhile(row => !row.StartsWith(" o result", StringComparison.Ordinal)).Sum(row => row.Count(mark => mark == 'o')));
    }

    [Fact]
    public void A_last_result_that_is_stale_waits_for_no_day()
    {
        var lost = LostMotion with { Lost = "stale", NextCheck = null, NextElse = null, Forecast = [], NextBecause = "the last result is stale: Belt or rack retensioned: measure it" };
        var shown = Rows(lost);
        Assert.Equal("NEXT >> Measure it again. Enter opens the last finding, which leads to it.", shown[20]);
        Assert.DoesNotContain(shown, row => row.Contains("Look again", StringComparison.Ordinal) || row.Contains("next check", StringComparison.Ordinal) || row.Contains('^', StringComparison.Ordinal));
        Assert.Contains(Core.Reports.TrendText.Told(lost), told => told == "Look again now: the last result is stale: Belt or rack retensioned: measure it.");
    }

    [Fact]
    public void Left_and_Right_say_which_result_in_words_and_by_its_mark()
    {
        var shown = Rows(LostMotion, chosen: 7);
        Assert.Contains(shown, row => row == " O 17 Oct 2026  0.0650 +/- 0.0060 mm (k=2.00, 95 %), dial");
        Assert.Equal('O', shown[8][58]);
    }
}
