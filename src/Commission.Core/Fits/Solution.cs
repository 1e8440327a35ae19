using System.Collections.Immutable;
using Commission.Core.Quantities;

namespace Commission.Core.Fits;

/// <summary>Solves a design that has been found to have full rank.</summary>
internal static class Solution
{
    public static LeastSquaresSolution Of(
        ImmutableArray<string> names, ImmutableArray<AugmentedSystem.Row> rows, CentredDesign design, RankTest readings)
    {
        var n = names.Length;
        var m = design.Matrix.GetLength(0);
        var factor = new HouseholderFactor(design.Matrix);
        var values = new DoubleDouble[m];
        for (var i = 0; i < rows.Length; i++) values[i] = rows[i].Sigma == 1 ? rows[i].Value : DoubleDouble.Product(rows[i].Value, rows[i].Scale);
        var (residuals, unknowns) = factor.Solve(values, new DoubleDouble[n], leastSteps: 2);

        // Column c of the covariance solves A'A x = e_c; the residuals of that solution, with the sign turned, are what each row
        // does to estimate c, which splits its variance by source.
        var covariance = new double[n][];
        var effects = new double[n][];
        for (var c = 0; c < n; c++)
        {
            var right = Array.ConvertAll(design.Functional(c), value => -value);
            var (effect, column) = factor.Solve(new DoubleDouble[m], right, leastSteps: 1);
            covariance[c] = Array.ConvertAll(design.Restore(column), value => value.ToDouble());
            effects[c] = Array.ConvertAll(effect, value => -value.ToDouble());
        }

        return new LeastSquaresSolution
        {
            Columns = names,
            Estimates = [.. design.Restore(unknowns).Select(value => value.ToDouble())],
            Covariance = Symmetric(covariance),
            ReadingCovariance = FromReadings(rows, effects),
            Priors = Priors(rows, effects),
            Residuals = [.. rows.Select((row, i) => (row, i)).Where(at => at.row.Source is null).Select(at => (residuals[at.i] * at.row.Sigma).ToDouble())],
            Leverages = Leverages(rows, design, effects),
            SumOfSquares = Squares(rows, residuals, priors: false),
            PriorSumOfSquares = Squares(rows, residuals, priors: true),
            DegreesOfFreedom = rows.Length - n,
            SingularValues = readings.SingularValues,
            Undetermined = readings.Open,
        };
    }

    private static ImmutableArray<ImmutableArray<double>> FromReadings(ImmutableArray<AugmentedSystem.Row> rows, double[][] effects)
    {
        var n = effects.Length;
        var sums = new double[n, n];
        for (var i = 0; i < rows.Length; i++)
        {
            if (rows[i].Source is not null) continue;
            for (var a = 0; a < n; a++)
                for (var b = a; b < n; b++) sums[a, b] += effects[a][i] * effects[b][i];
        }

        return [.. Enumerable.Range(0, n).Select(a => Enumerable.Range(0, n).Select(b => sums[Math.Min(a, b), Math.Max(a, b)]).ToImmutableArray())];
    }

    // Both halves were solved for; they differ in the last digit at most.
    private static ImmutableArray<ImmutableArray<double>> Symmetric(double[][] matrix) =>
        [.. matrix.Select((row, a) => row.Select((value, b) => a <= b ? value : matrix[b][a]).ToImmutableArray())];

    private static ImmutableArray<PriorPart> Priors(ImmutableArray<AugmentedSystem.Row> rows, double[][] effects) =>
        [.. rows.Select((row, i) => (row, i)).Where(at => at.row.Source is not null)
            .Select(at => new PriorPart(at.row.Source!, at.row.Shared, [.. effects.Select(effect => effect[at.i])]))];

    private static ImmutableArray<double> Leverages(ImmutableArray<AugmentedSystem.Row> rows, CentredDesign design, double[][] effects)
    {
        var leverages = ImmutableArray.CreateBuilder<double>();
        for (var i = 0; i < rows.Length; i++)
        {
            if (rows[i].Source is not null) continue;

            // Effects of the scaled and centred unknowns, times the row itself: the diagonal of the projection.
            var sum = 0.0;
            for (var j = 0; j < effects.Length; j++)
            {
                var effect = effects[j][i];
                if (j == design.Constant)
                    for (var k = 0; k < effects.Length; k++) effect += k == j ? 0 : design.Means[k] * effects[k][i];
                sum += effect / design.Scales[j] * design.Matrix[i, j].High;
            }

            leverages.Add(Math.Clamp(sum, 0, 1));
        }

        return leverages.ToImmutable();
    }

    private static double Squares(ImmutableArray<AugmentedSystem.Row> rows, DoubleDouble[] residuals, bool priors)
    {
        DoubleDouble sum = 0;
        for (var i = 0; i < rows.Length; i++)
            if (rows[i].Source is not null == priors) sum += residuals[i] * residuals[i];
        return sum.ToDouble();
    }
}
