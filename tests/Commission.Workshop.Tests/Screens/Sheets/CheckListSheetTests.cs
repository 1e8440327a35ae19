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
    [InlineData("at least 20 V and at most 45 V", "V", ">= 20...")]
    [InlineData("at least 2 V and at most 4 V", "V", ">= 2, <= 4")]
    [InlineData("from 2 to 4 V", "V", "2..4")]
    // Found in review: cut after eleven characters these said another limit than the check has.
    [InlineData("within 10 % of the rated volts", "V", "+-10 %...")]
    [InlineData("within 5 % of 24 V and at most 45 V", "V", "24 +-5 %...")]
    [InlineData("within 12.5 % of 24.75 V and at most 45 V", "V", "+-12.5 %...")]
    [InlineData("at most 0.9 times 'the rated current'", "A", "...")]
    public void A_limit_is_as_short_as_its_column(string limit, string unit, string shown) => Assert.Equal(shown, CheckListSheet.Short(limit, unit).TrimEnd());
}
