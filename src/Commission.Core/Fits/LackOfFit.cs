namespace Commission.Core.Fits;

/// <summary>Whether repeats scatter less than the model leaves over: the F test of lack of fit.</summary>
/// <param name="F">Mean square of what the model misses over the mean square of repeats.</param>
/// <param name="Numerator">Degrees of freedom above.</param>
/// <param name="Denominator">Degrees of freedom below.</param>
/// <param name="PureSumOfSquares">Sum of squares of the repeats about their own means.</param>
public sealed record LackOfFit(double F, int Numerator, int Denominator, double PureSumOfSquares)
{
    /// <summary>Tests residuals whose rows fall into groups of repeats.</summary>
    /// <typeparam name="T">What tells the groups apart.</typeparam>
    /// <param name="rows">Group and residual of each row.</param>
    /// <param name="parameters">Number of parameters fitted.</param>
    /// <returns>The test; null where there are no repeats, no spare groups, or repeats without any scatter.</returns>
    public static LackOfFit? Of<T>(IEnumerable<(T Group, double Residual)> rows, int parameters)
    {
        var groups = rows.GroupBy(row => row.Group, row => row.Residual).Select(group => group.ToArray()).ToArray();
        var (n, m) = (groups.Sum(group => group.Length), groups.Length);
        var pure = groups.Sum(group =>
        {
            var mean = group.Average();
            return group.Sum(r => (r - mean) * (r - mean));
        });
        if (m <= parameters || n <= m || pure <= 0) return null;
        var left = groups.Sum(group => group.Sum(r => r * r));
        return new LackOfFit((left - pure) / (m - parameters) / (pure / (n - m)), m - parameters, n - m, pure);
    }
}
