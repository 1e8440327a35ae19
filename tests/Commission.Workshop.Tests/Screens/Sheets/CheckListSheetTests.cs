using Commission.Workshop.Screens.Sheets;
using Xunit;

namespace Commission.Workshop.Tests.Screens.Sheets;

public class CheckListSheetTests
{
    [Theory]
    [InlineData("at most 0.1 ohm", "ohm", "<= 0.1")]
    [InlineData("at least 1 Mohm", "Mohm", ">= 1")]
    [InlineData("from 20 to 150 mm", "mm", "20..150")]
    [InlineData("yes", "", "yes")]
    [InlineData("within 10 % of the rated volts", "V", "within 10 %")]
    public void A_limit_is_as_short_as_its_column(string limit, string unit, string shown) => Assert.Equal(shown, CheckListSheet.Short(limit, unit).TrimEnd());
}
