using System.Collections.Immutable;
using Commission.Core.Instruments;
using Commission.Core.Readings;
using Commission.Core.Suspects;

namespace Commission.Core.Tests.Suspects;

public sealed class HiddenSlipsTests
{
    private static readonly double[] Places = [4, 142.25, 143.5, 5.25, 75, 77.5, 6.5, 144.75, 146, 7.75];
    private static readonly double[] Scatter = [0.02, -0.04, 0.01, -0.02, 0.01, 0.00, -0.03, 0.02, -0.01, 0.03];

    private static int[] Named(HandStudy? study, params (int Row, double Slip)[] slips)
    {
        var values = Places.Select((place, i) => place + Scatter[i] + slips.Where(s => s.Row == i + 1).Sum(s => s.Slip)).ToArray();
        var table = new ReadingTable
        {
            Source = "test",
            Columns = [],
            Rows = [.. values.Select((_, i) => new ReadingRow { Number = i + 1, Numbers = ImmutableDictionary<string, double>.Empty, Words = ImmutableDictionary<string, string>.Empty })],
        };
        double[][] design = [.. Places.Select((place, i) => new[] { 1, place, i % 2 == 0 ? 0.5 : -0.5 })];
        return [.. HiddenSlips.Against(table, design, values, study).Select(doubt => doubt.Row).Order()];
    }

    private static HandStudy Study { get; } = new("operator", "caliper", 0.02, 14);

    [Fact]
    public void Clean_readings_are_not_questioned() => Assert.Empty(Named(Study));

    // Sets like these left errors of 3500 ppm unquestioned in long runs: two slips, each hiding the other.
    [Theory]
    [InlineData(7, -1.0, 8, 1.0)]
    [InlineData(2, -1.0, 8, -1.0)]
    [InlineData(8, -0.61, 9, -0.99)]
    [InlineData(1, 0.25, 5, 0.47)]
    public void Two_slips_that_hide_each_other_are_both_named(int first, double one, int second, double other) =>
        Assert.Equal([first, second], Named(Study, (first, one), (second, other)));

    [Fact]
    public void Without_a_study_nothing_is_named() => Assert.Empty(Named(null, (7, -1.0), (8, 1.0)));
}
