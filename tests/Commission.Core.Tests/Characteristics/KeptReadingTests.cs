using System.Collections.Immutable;

namespace Commission.Core.Tests.Characteristics;

public sealed class KeptReadingTests
{
    // Found when a report of a whole commissioning could not be written: the set-up of the square is a number in the plan and a word in the journal's answer.
    [Fact]
    public void A_number_of_the_plan_is_a_word_to_the_kind_that_reads_it_as_one_and_the_column_read_is_the_one_still_missing()
    {
        var kind = CharacteristicKinds.Find("square-reversal")!;
        var table = KeptReading.Table("store", kind, from setup in new[] { 1.0, 2.0 } from travel in new[] { 0.0, 75, 150 } select Kept(setup, travel));

        Assert.Equal(["1", "1", "1", "2", "2", "2"], table.Rows.Select(row => row.Words["setup"]));
        Assert.All(table.Rows, row => Assert.Equal(0.01, row["reading_mm"]));
        Assert.NotNull(kind.Picture(kind.Evaluate(table, new FitOptions()).Require(), table));
    }

    private static KeptReading Kept(double setup, double travel) => new()
    {
        Given = ImmutableDictionary<string, double>.Empty.Add("setup", setup).Add("travel_mm", travel),
        Words = ImmutableDictionary<string, string>.Empty,
        Typed = "0.01",
        Value = 0.01,
    };
}
