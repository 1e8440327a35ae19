using Commission.Core.Quantities;
using Commission.Core.Readings;
using static Commission.Core.Fits.Products;

namespace Commission.Core.Suspects;

/// <summary>How readings went off in the order they were taken.</summary>
internal enum TimeShape
{
    /// <summary>From one row on all lie differently: a lost zero, lost steps.</summary>
    Step,

    /// <summary>They move steadily: warming, creep.</summary>
    Slope,

    /// <summary>The first third differs from the last: not yet warm.</summary>
    FirstThird,
}

/// <summary>The strongest pattern in time that a set of residuals shows.</summary>
/// <remarks>
/// Each pattern is tried as one more unknown of the fit itself, so that the test is exact whatever the design (F with one degree of
/// freedom above). Running sums over an orthonormal basis of the design keep all steps together linear in the readings.
/// </remarks>
/// <param name="Shape">Its shape.</param>
/// <param name="From">Index of the first row that lies differently, from 0; 0 where the shape has none.</param>
/// <param name="Size">Size of the step, mm; change over the whole series for the others.</param>
/// <param name="Uncertainty">Standard uncertainty of the size, mm.</param>
internal sealed record TimePattern(TimeShape Shape, int From, double Size, double Uncertainty)
{
    // Two-sided chance that a clean set sets off one pattern of the three: with the questions about single readings fewer than one clean
    // set in a hundred is asked about.
    private const double FalseAlarm = 0.0004;
    private const int LeastReadings = 6;
    private const int LeastFreedom = 3;

    // Wider designs, a hundred objects each measured a few times, would cost the square of their width and have no order in time to speak of.
    private const int MostUnknowns = 60;

    /// <summary>The question a pattern raises; nothing for a clean set.</summary>
    public static IEnumerable<Doubt> Doubts(ReadingTable readings, IReadOnlyList<double[]> design, IReadOnlyList<double> residuals)
    {
        if (Of(design, residuals) is { } found)
        {
            yield return found.Shape switch
            {
                TimeShape.Step => new Doubt(readings.Used.ElementAt(found.From).Number, "From this row on all readings lie differently, as if the zero had been lost.",
                    "Check the zero of the instrument, then take the series again from here."),
                TimeShape.Slope => new Doubt(0, "The readings drift in the order they were taken.", "Let the machine warm up, check the zero, and take them again."),
                _ => new Doubt(0, "The first readings differ from the last ones.", "Was the machine warm, and the instrument settled, before the first one?"),
            };
        }
    }

    /// <summary>The strongest pattern; null where none is beyond chance, or the readings are too few to tell.</summary>
    /// <param name="design">Coefficients of the unknowns, one row for each reading.</param>
    /// <param name="residuals">Residuals in order of time, mm.</param>
    public static TimePattern? Of(IReadOnlyList<double[]> design, IReadOnlyList<double> residuals)
    {
        var n = residuals.Count;
        if (n < LeastReadings || design[0].Length > MostUnknowns) return null;
        var basis = Basis(design);
        var freedom = n - basis.Count - 1;
        if (freedom < LeastFreedom) return null;
        double[] left = [.. residuals];
        foreach (var column in basis) Subtract(left, column, Dot(left, column));
        var sum = Dot(left, left);
        if (sum < 1e-20) return null;

        double[] slope = [.. Enumerable.Range(0, n).Select(i => (double)i / (n - 1))];
        double[] thirds = [.. Enumerable.Range(0, n).Select(i => i < n / 3 ? -0.5 : i >= n - n / 3 ? 0.5 : 0)];
        Trial[] trials = [BestStep(left, basis), Trial.Of(TimeShape.Slope, slope, left, basis), Trial.Of(TimeShape.FirstThird, thirds, left, basis)];
        var best = trials.Where(t => t.Gain > 0 && Exceeds(t, sum, freedom, n)).OrderByDescending(t => t.Gain).FirstOrDefault();
        if (best is null) return null;
        var deviation = Math.Sqrt(Math.Max(0, sum - best.Gain) / freedom);
        return new TimePattern(best.Shape, best.From, best.Size, deviation * best.Spread);
    }

    private static bool Exceeds(Trial trial, double sum, int freedom, int n)
    {
        var chance = trial.Shape == TimeShape.Step ? FalseAlarm / (n - 3) : FalseAlarm;
        var rest = sum - trial.Gain;
        return rest < 1e-20 || trial.Gain / (rest / freedom) > FisherF.Quantile(1 - chance, 1, freedom);
    }

    // The cut, two rows from either end at least, that explains most.
    private static Trial BestStep(double[] left, List<double[]> basis)
    {
        var n = left.Length;
        var (tail, tails) = (0.0, new double[basis.Count]);
        var best = new Trial(TimeShape.Step, 0, 0, 0, 0);
        for (var k = n - 1; k >= 2; k--)
        {
            tail += left[k];
            var own = (double)(n - k);
            for (var c = 0; c < tails.Length; c++)
            {
                tails[c] += basis[c][k];
                own -= tails[c] * tails[c];
            }

            if (k <= n - 2 && Trial.Taking(TimeShape.Step, k, tail, own, n - k) is var trial && trial.Gain > best.Gain) best = trial;
        }

        return best;
    }

    // Orthonormal columns that span the design, by Gram and Schmidt twice over; columns that depend on others drop out.
    private static List<double[]> Basis(IReadOnlyList<double[]> design)
    {
        var basis = new List<double[]>();
        for (var c = 0; c < design[0].Length; c++)
        {
            double[] column = [.. design.Select(row => row[c])];
            var size = Math.Sqrt(Dot(column, column));
            for (var pass = 0; pass < 2; pass++)
                foreach (var other in basis) Subtract(column, other, Dot(column, other));
            var rest = Math.Sqrt(Dot(column, column));
            if (size == 0 || rest <= 1e-9 * size) continue;
            basis.Add([.. column.Select(v => v / rest)]);
        }

        return basis;
    }

    private static void Subtract(double[] from, double[] column, double times)
    {
        for (var i = 0; i < from.Length; i++) from[i] -= times * column[i];
    }

    /// <summary>One pattern tried: sum of squares it takes, its size, and the factor from scatter to the uncertainty of the size.</summary>
    private sealed record Trial(TimeShape Shape, int From, double Gain, double Size, double Spread)
    {
        public static Trial Of(TimeShape shape, double[] pattern, double[] left, List<double[]> basis)
        {
            var own = Dot(pattern, pattern);
            var all = own;
            foreach (var column in basis) own -= Math.Pow(Dot(pattern, column), 2);
            return Taking(shape, 0, Dot(pattern, left), own, all);
        }

        // What the design explains of the pattern itself cannot be told from it.
        public static Trial Taking(TimeShape shape, int from, double along, double own, double all) => own <= 1e-6 * all
            ? new Trial(shape, from, 0, 0, 0)
            : new Trial(shape, from, along * along / own, along / own, 1 / Math.Sqrt(own));
    }
}
