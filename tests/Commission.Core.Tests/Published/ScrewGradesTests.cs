using Commission.Core.Tests.Support;

namespace Commission.Core.Tests.Published;

public sealed class ScrewGradesTests
{
    // ISO 3408-3:2006, and DIN 69051-3 (withdrawn) for grade 9: permissible travel variation over 300 mm, shared/reference/facts/ballscrew_v300.csv.
    [Fact]
    public void The_table_is_that_of_the_published_rows()
    {
        var rows = ReferenceData.Csv("facts/ballscrew_v300.csv").Where(row => !row["standard"].StartsWith("JIS", StringComparison.Ordinal)).ToArray();
        Assert.Equal(rows.Select(row => int.Parse(row["grade"], System.Globalization.CultureInfo.InvariantCulture)).Order(), ScrewGrades.All);
        foreach (var row in rows)
        {
            var grade = int.Parse(row["grade"], System.Globalization.CultureInfo.InvariantCulture);
            Assert.Equal(ReferenceData.Number(row["permissible_travel_variation_over_300mm_um"]) / 300_000, ScrewGrades.ScaleLimit(grade)!.Value, 15);
        }
    }

    [Fact]
    public void A_grade_that_is_not_in_the_table_has_no_limit() => Assert.Null(ScrewGrades.ScaleLimit(8));
}
