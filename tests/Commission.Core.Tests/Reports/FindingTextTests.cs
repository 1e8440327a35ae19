using System.Collections.Immutable;
using Commission.Core.Quantities;
using Commission.Core.Readings;
using Commission.Core.Reports;

namespace Commission.Core.Tests.Reports;

public sealed class FindingTextTests
{
    // Two directions of each place, 0.05 mm of lost motion, a scatter of some hundredths; invented.
    private const string Places = "place_mm,direction,reading_mm\n10,+,0.00\n10,-,0.05\n200,+,0.01\n200,-,0.06\n400,+,0.00\n400,-,0.04\n10,+,0.01\n10,-,0.05\n200,+,0.00\n200,-,0.05\n";

    private static string Scatter(ShownUnits? units)
    {
        var kind = CharacteristicKinds.Find("backlash")!;
        var finding = kind.Evaluate(CsvReadings.Read("places.csv", Places, kind.Columns).Require(), new FitOptions()).Require();
        return FindingText.Lines(finding, 0.95, units).Single(line => line.Contains("scatter about", StringComparison.Ordinal));
    }

    [Fact]
    public void The_scatter_of_lengths_stands_with_its_unit() => Assert.Matches(@"^  scatter about the fit: 0\.00\d+ mm ", Scatter(null));

    [Fact]
    public void For_an_inch_owner_it_stands_in_inches() => Assert.Matches(@"^  scatter about the fit: 0\.000\d+ in ", Scatter(ShownUnits.Inches));

    [Fact]
    public void Readings_of_columns_with_any_names_have_their_own_unit()
    {
        var table = CsvReadings.Read("load.csv", "load_n,length_mm\n0,20.01\n10,21.02\n20,22.04\n30,22.99\n", [], anyNumeric: true).Require();
        var words = ImmutableDictionary<string, string>.Empty.Add("response", "length_mm").Add("predictors", "load_n");
        var finding = new ColumnsKind().Evaluate(table, new FitOptions { Words = words }).Require();
        Assert.Contains(FindingText.Lines(finding, 0.95), line => line.Contains("in the unit of the readings", StringComparison.Ordinal));
    }
}
