using Commission.Core.Readings;

namespace Commission.Core.Tests.Characteristics;

/// <summary>No set of readings, however poor, ends in anything but a finding or a problem.</summary>
public sealed class PoorDataTests
{
    public static TheoryData<string> Kinds => [.. CharacteristicKinds.All.Select(kind => kind.Id)];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Poor_readings_end_in_a_finding_or_a_problem(string id)
    {
        var kind = CharacteristicKinds.Find(id)!;
        (string, double)[] options = [("radius-mm", 100), ("period-mm", 5), ("nominal-mm", 120)];
        foreach (var rows in new[] { 1, 2, 3, 5, 12 })
        {
            foreach (var (varied, excluded, instrument) in new[] { (false, false, true), (true, false, true), (true, false, false), (true, true, true), (false, false, false) })
            {
                var csv = Fit.Rows(string.Join(",", kind.Columns.Select(c => c.Name)) + ",excluded",
                    Enumerable.Range(0, rows).Select(i => kind.Columns.Select((c, k) => Cell(c, varied ? (i * 7 + k * 3) % 11 : 1)).Append(excluded ? "yes" : "")));
                var with = Fit.With(0.03, null, options);
                var outcome = Fit.Try(id, csv, instrument ? with with { TravelPerTurnMm = 5 } : with with { Instrument = null });

                outcome.Match(
                    finding =>
                    {
                        Assert.All(finding.Parameters, p => Assert.True(p.Value is null || double.IsFinite(p.Value.Value), p.Name));
                        Assert.All(finding.Parameters, p => Assert.True(p.ExpandedUncertainty is null || double.IsFinite(p.ExpandedUncertainty.Value), p.Name));
                        Assert.All(finding.Parameters, p => Assert.True(p.ExpandedUncertainty is not null || p.WhyNoUncertainty is not null, p.Name));
                        return 0;
                    },
                    problems =>
                    {
                        Assert.All(problems, p => Assert.NotEmpty(p.Remedy));
                        return 0;
                    });
            }
        }
    }

    private static object Cell(ColumnSpec column, int value) => column.Content switch
    {
        ColumnContent.Direction => value % 2 == 0 ? "+" : "-",
        ColumnContent.Word when column.Words.Length > 0 => column.Words[value % column.Words.Length],
        ColumnContent.Word => "w" + value % 3,
        ColumnContent.Whole => value,
        _ => value + 0.25,
    };
}
