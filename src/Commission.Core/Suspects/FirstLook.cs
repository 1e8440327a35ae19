using Commission.Core.Quantities;

namespace Commission.Core.Suspects;

/// <summary>Holds what a robust line makes look odd to the fit itself.</summary>
/// <remarks>
/// The scatter that a robust line gets from a few readings is itself so uncertain that a fixed limit of five of it names something in one
/// clean set of ten readings out of twelve (own simulation). So it only proposes. What it
/// proposes stays where the rest of the readings, fitted without it, say the same: F test of the whole group with Bonferroni's correction
/// for every group of that size (mean-shift model: R. D. Cook and S. Weisberg, Residuals and Influence in Regression, 1982, from memory), so that fewer
/// than one clean set in a thousand is named whatever proposed the group.
/// </remarks>
internal static class FirstLook
{
    private const double FalseAlarm = 0.001;

    /// <summary>Those of the doubts that the fit confirms.</summary>
    /// <param name="series">The readings.</param>
    /// <param name="proposed">Doubts about single rows; where they are more than a third of the readings, the line itself is in doubt and none is named.</param>
    public static IEnumerable<Doubt> Confirmed(Series series, IReadOnlyList<Doubt> proposed)
    {
        if (proposed.Count == 0 || proposed.Count > series.Residuals.Count / 3)
            return [];
        var rows = series.Readings.Used.Select((row, i) => (row.Number, i)).ToDictionary(pair => pair.Number, pair => pair.i);
        var groups = new SlipGroups(series.Design, series.Values);
        var left = proposed.ToList();
        while (left.Count > 0)
        {
            int[] group = [.. left.Select(doubt => rows[doubt.Row])];
            var weakest = Enumerable.Range(0, group.Length).MinBy(k => Alone(series, groups, group, k));
            if (Alone(series, groups, group, weakest) < 1)
                left.RemoveAt(weakest);
            else
                return Together(series, groups, group) ? left : [];
        }

        return [];
    }

    /// <summary>What a member adds to the group, as a multiple of what chance would.</summary>
    private static double Alone(Series series, SlipGroups groups, int[] group, int member)
    {
        var fall = groups.Fall(group);
        var (squares, freedom) = Rest(series, groups, group.Length, fall);
        if (freedom < 1 || squares <= 0)
            return freedom < 1 ? 0 : double.PositiveInfinity;
        int[] others = [.. group.Where((_, k) => k != member)];
        var limit = StudentT.Quantile(1 - (FalseAlarm / (2 * groups.Residuals.Length)), freedom);
        return (fall - groups.Fall(others)) * freedom / (squares * limit * limit);
    }

    private static bool Together(Series series, SlipGroups groups, int[] group)
    {
        var fall = groups.Fall(group);
        var (squares, freedom) = Rest(series, groups, group.Length, fall);
        var ways = Math.Exp(LogChoose(groups.Residuals.Length, group.Length));
        return freedom >= 1 && fall * freedom > squares * group.Length * FisherF.Quantile(1 - Math.Max(FalseAlarm / ways, 1e-15), group.Length, freedom);
    }

    // What is left without the group, pooled with the operator's study, and never less than rounding leaves: a few readings agree by chance.
    private static (double Squares, double Freedom) Rest(Series series, SlipGroups groups, int size, double fall)
    {
        var (known, freedom) = series.Study is { StandardDeviationMm: > 0, DegreesOfFreedom: > 0 } study
            ? (study.DegreesOfFreedom * study.StandardDeviationMm * study.StandardDeviationMm, study.DegreesOfFreedom)
            : (0, 0.0);
        var own = groups.Residuals.Length - series.Unknowns - size;
        var rounding = own * Math.Pow(series.Resolution ?? 0, 2) / 12;
        return (Math.Max(rounding, groups.Sum - fall) + known, own + freedom);
    }

    private static double LogChoose(int count, int size) =>
        Enumerable.Range(0, size).Sum(k => Math.Log((count - k) / (k + 1.0)));
}
