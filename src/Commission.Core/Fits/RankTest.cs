using System.Collections.Immutable;

namespace Commission.Core.Fits;

/// <summary>Which combinations of unknowns a design leaves open, by the singular values of its column-scaled matrix.</summary>
/// <param name="SingularValues">Singular values, largest first.</param>
/// <param name="Open">Combinations whose singular value is below the limit times the largest.</param>
internal sealed record RankTest(ImmutableArray<double> SingularValues, ImmutableArray<NullDirection> Open)
{
    // A coefficient that moves readings less than this part of the largest is left out of the words.
    private const double Named = 0.02;

    public static RankTest Of(CentredDesign design, ImmutableArray<string> names, double limit)
    {
        var n = names.Length;
        var triangle = new HouseholderFactor(design.Matrix).Triangle();
        var norms = new double[n];
        for (var j = 0; j < n; j++)
        {
            for (var i = 0; i <= j; i++) norms[j] += triangle[i, j] * triangle[i, j];
            norms[j] = norms[j] == 0 ? 1 : Math.Sqrt(norms[j]);
            for (var i = 0; i <= j; i++) triangle[i, j] /= norms[j];
        }

        var values = Fits.SingularValues.Of(triangle);
        var open = Enumerable.Range(0, n)
            .Where(k => !(values.Values[k] > limit * values.Values[0]))
            .Select(k => Direction(design, names, norms, values.Vectors, k));
        return new RankTest([.. values.Values], [.. open]);
    }

    // Back from scaled and centred unknowns; each coefficient is judged by what it does to the readings.
    private static NullDirection Direction(CentredDesign design, ImmutableArray<string> names, double[] norms, double[,] vectors, int k)
    {
        var n = names.Length;
        var coefficients = new double[n];
        for (var j = 0; j < n; j++) coefficients[j] = vectors[j, k] / norms[j] * design.Scales[j];
        var effect = new double[n];
        for (var j = 0; j < n; j++) effect[j] = Math.Abs(vectors[j, k]);
        if (design.Constant >= 0)
        {
            for (var j = 0; j < n; j++)
            {
                if (j == design.Constant) continue;
                var moved = coefficients[j] * design.Means[j];
                coefficients[design.Constant] -= moved;
                effect[design.Constant] = Math.Max(effect[design.Constant], Math.Abs(vectors[j, k]) * (moved == 0 ? 0 : 1));
            }
        }

        var largest = effect.Max();
        var size = coefficients.Max(Math.Abs);
        return new NullDirection([.. Enumerable.Range(0, n)
            .Where(j => effect[j] >= Named * largest && Math.Abs(coefficients[j]) > 1e-9 * size)
            .Select(j => (names[j], coefficients[j] / size))]);
    }
}
