using System.Collections.Immutable;
using Commission.Core.Instruments;
using Commission.Core.Readings;

namespace Commission.Core.Tests.Characteristics;

public sealed class InstrumentScaleTests
{
    // Found by long runs on the practice machine: runout read a third too small where the limit of error was large against the readings.
    [Fact]
    public void A_limit_of_error_that_is_large_against_the_readings_does_not_shrink_what_they_say()
    {
        double[] readings = [0.001, -0.041, -0.036, -0.002, 0.003, -0.044, -0.039, 0.004, -0.001, -0.037];
        string[] directions = ["+", "-", "-", "+", "+", "-", "-", "+", "+", "-"];
        var table = new ReadingTable
        {
            Source = "test",
            Columns = ["place_mm", "direction", "reading_mm"],
            Rows = [.. readings.Select((reading, i) => new ReadingRow
            {
                Number = i + 1,
                Numbers = ImmutableDictionary<string, double>.Empty.Add("place_mm", 100).Add("reading_mm", reading),
                Words = ImmutableDictionary<string, string>.Empty.Add("direction", directions[i]),
            })],
        };
        var indicator = new Instrument("indicator", InstrumentKind.Indicator, 0.005, 0.001, 10, "test");
        var kind = CharacteristicKinds.Find("backlash")!;
        var without = kind.Evaluate(table, new FitOptions()).Require();
        var with = kind.Evaluate(table, new FitOptions { Instrument = indicator }).Require();
        Assert.Equal(without.Headline.Value!.Value, with.Headline.Value!.Value, 1e-12);
    }
}
