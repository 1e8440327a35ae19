using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Tests.Screens.Sheets;

public class CheckListSheetTests
{
    [Theory]
    [InlineData("at most 0.1 ohm", "ohm", "<= 0.1")]
    [InlineData("at least 1 Mohm", "Mohm", ">= 1")]
    [InlineData("from 20 to 150 mm", "mm", "20..150")]
    [InlineData("yes", "", "yes")]
    [InlineData("within 5 % of 24 V", "V", "24 +-5 %")]
    [InlineData("at least 20 V and at most 45 V", "V", null)]
    [InlineData("at least 2 V and at most 4 V", "V", ">= 2, <= 4")]
    [InlineData("from 2 to 4 V", "V", "2..4")]
    // Found in review: cut after eleven characters these said another limit than the check has.
    [InlineData("within 10 % of the rated volts", "V", null)]
    [InlineData("within 5 % of 24 V and at most 45 V", "V", null)]
    [InlineData("within 12.5 % of 24.75 V and at most 45 V", "V", null)]
    [InlineData("at most 0.9 times 'the rated current'", "A", null)]
    public void A_limit_is_as_short_as_its_column(string limit, string unit, string? shown) => Assert.Equal(shown, CheckListSheet.Short(limit, unit));

    // Found in review: a check that had passed showed no whole limit.
    [Fact]
    public void A_limit_that_the_column_cannot_hold_stands_whole_below_its_check()
    {
        var rows = SheetFrame.Text(CheckListSheet.Of(
            new CheckListView
            {
                Path = "Heron / work / first power-up", Right = "", NotOpened = 1, Step = ("Read it again.", "Because."), Live = LiveStrip.None, Keys = [],
                Rows =
                [
                    new("P17", "current of the drivers", "1.4 A", null, "M", true) { Whole = "at most 0.9 times 'the rated current' and at most 0.8 times 'the most the driver gives'" },
                    new("P18", "motors warm", "yes", "yes", "M", false),
                ],
            },
            24)).Split('\n');
        Assert.Equal(" in   P17 current of the drivers                     1.4 A     below       M", rows[3]);
        Assert.Equal("          limit: at most 0.9 times 'the rated current' and at most 0.8 times", rows[4]);
        Assert.Equal("          'the most the driver gives'", rows[5]);
        Assert.StartsWith(" OUT  P18", rows[6], StringComparison.Ordinal);
    }

}
