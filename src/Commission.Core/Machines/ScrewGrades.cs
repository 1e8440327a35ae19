using System.Collections.Immutable;

namespace Commission.Core.Machines;

/// <summary>How far the travel of a ball screw may be off, by its grade.</summary>
/// <remarks>
/// Permissible travel variation over any 300 mm: ISO 3408-3:2006, grades 0 to 10; grade 9 from DIN 69051-3 (withdrawn). Grades 3, 5, 7
/// read in makers' extracts, the others from memory; the same rows stand in <c>shared/reference/facts/ballscrew_v300.csv</c>.
/// </remarks>
public static class ScrewGrades
{
    private static readonly ImmutableArray<(int Grade, double LimitMicrometres)> Table =
        [(0, 3.5), (1, 6), (3, 12), (5, 23), (7, 52), (9, 130), (10, 210)];

    /// <summary>The grades known.</summary>
    public static ImmutableArray<int> All { get; } = [.. Table.Select(row => row.Grade)];

    /// <summary>Limit of the scale error of a screw of a grade, as a ratio: the permissible variation over 300 mm, divided by 300 mm.</summary>
    /// <returns>The limit, positive; null for a grade that is not in the table.</returns>
    public static double? ScaleLimit(int grade)
    {
        foreach (var row in Table)
            if (row.Grade == grade) return row.LimitMicrometres * 1e-3 / 300;
        return null;
    }
}
