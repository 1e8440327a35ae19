using System.Globalization;
using Commission.Core.Instruments;
using Commission.Core.Quantities;
using Commission.Core.Readings;

namespace Commission.Core.Suspects;

/// <summary>Slips in one set hide each other: each makes the others look like scatter. The operator's own study tells that it is none.</summary>
/// <remarks>
/// The procedure of B. Rosner, "Percentage points for a generalized ESD many-outlier procedure", Technometrics 25 (1983), for a linear
/// model, with two changes of our own: of each size the group is taken without which the rest agree best (all are tried, none is hidden by
/// another), and scatter is that of the rest pooled with the operator's study. The largest group whose last member still stands out is
/// named. Rates on clean sets and on sets with slips are measured in table C of the proof.
/// </remarks>
public static class HiddenSlips
{
    // All groups are tried, and there are 10 626 of four in a set of 24: half a millisecond.
    private const int MostReadings = 24;
    private const int MostSlips = 4;

    // Chances that a clean set is asked about. Bonferroni's correction is all but exact for one reading (simulated over the shipped plans:
    // 0.60 % for 0.6 %); for the best group of several it lets far fewer through than it says, 0.1 % for 1 %. Together 0.7 % of clean sets.
    private const double OneFalseAlarm = 0.006;
    private const double MoreFalseAlarm = 0.01;

    /// <summary>The readings that look like slips together.</summary>
    /// <param name="readings">The table; the rows used have design and values in their order.</param>
    /// <param name="design">Coefficients of the unknowns, one row for each reading used.</param>
    /// <param name="values">The readings, mm.</param>
    /// <param name="study">The operator's hand study; without one nothing is named.</param>
    /// <param name="column">Column that the instrument was read for, so that a known slip can be offered; null offers none.</param>
    public static IEnumerable<Doubt> Against(
        ReadingTable readings, IReadOnlyList<double[]> design, IReadOnlyList<double> values, HandStudy? study, string? column = null)
    {
        if (study is null || !Judges(design, study))
            return [];
        var (count, unknowns) = (design.Count, design[0].Length);
        var groups = new SlipGroups(design, values);
        var known = study.DegreesOfFreedom * study.StandardDeviationMm * study.StandardDeviationMm;
        var best = groups.Best(Math.Min(MostSlips, count - unknowns - 2));
        for (var size = best.Length - 1; size >= 1; size--)
        {
            var freedom = count - unknowns - size + study.DegreesOfFreedom;
            var variance = (Math.Max(0, groups.Sum - best[size].Fall) + known) / freedom;
            var limit = StudentT.Quantile(1 - ((size == 1 ? OneFalseAlarm : MoreFalseAlarm) / (2 * (count - size + 1))), freedom);
            if (best[size].Fall - best[size - 1].Fall <= limit * limit * variance)
                continue;
            if (size == 1 && Alike(groups, best[1].Fall, count) is { Length: > 1 } alike)
                return alike.Select(index => Named(readings, index, 1, groups.Off([index])[0], Math.Sqrt(variance), column) with { Reason = Outliers.OneOfAlike(groups.Off([index])[0]) });
            var off = groups.Off(best[size].Group);
            return best[size].Group.Select((index, i) => Named(readings, index, size, off[i], Math.Sqrt(variance), column));
        }

        return [];
    }

    // The newest first: the instrument still stands there.
    private static int[] Alike(SlipGroups groups, double fall, int count) => [.. Enumerable.Range(0, count).Where(index => Outliers.IsAlike(groups.Fall([index]), fall)).Reverse()];

    /// <summary>Whether a set with this design is judged against the study at all: a study, and neither too many nor too few readings.</summary>
    public static bool Judges(IReadOnlyList<double[]> design, HandStudy? study) => study is { StandardDeviationMm: > 0, DegreesOfFreedom: > 0 }
        && design.Count <= MostReadings && design.Count > 0 && design.Count >= design[0].Length + 3;

    private static Doubt Named(ReadingTable readings, int index, int together, double off, double scatter, string? column)
    {
        var row = readings.Used.ElementAt(index);
        var question = column is null ? null : SlipDetector.LookAt(row[column], row[column] - off, scatter, row.Typed.GetValueOrDefault(column));
        return new Doubt(
            row.Number,
            together == 1
                ? string.Create(CultureInfo.InvariantCulture, $"It lies {off:+0.000;-0.000} mm off the others, further than your own scatter explains.")
                : string.Create(CultureInfo.InvariantCulture, $"It is one of {together} readings without which the rest agree as well as your own scatter lets them."),
            question is { Candidates.IsEmpty: false } ? question.Words : "Measure it again; leave it out only with a reason.");
    }
}
