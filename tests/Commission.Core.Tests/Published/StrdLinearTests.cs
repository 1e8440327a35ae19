using Commission.Core.Fits;
using Commission.Core.Quantities;
using Commission.Core.Tests.Support;

namespace Commission.Core.Tests.Published;

// NIST/ITL Statistical Reference Datasets, Linear Least Squares Regression; the files in shared/reference/strd_linear name origin and
// certified values. "exact_on_inputs_rounded_to_binary64" is exact arithmetic on the nearest doubles of the data.
public sealed class StrdLinearTests
{
    [Theory]
    [InlineData("norris", 1, true, 12.5)]
    [InlineData("pontius", 2, true, 12.5)]
    [InlineData("noint1", 1, false, 13)]
    [InlineData("longley", 0, true, 12.5)]
    [InlineData("wampler1", 5, true, 13)]
    [InlineData("wampler2", 5, true, 13)]
    [InlineData("wampler3", 5, true, 13)]
    [InlineData("wampler4", 5, true, 13)]
    public void Coefficients_and_standard_deviations_keep_their_digits(string set, int degree, bool constant, double certifiedDigits)
    {
        var json = ReferenceData.Json($"strd_linear/{set}.json");
        var fit = Fit(set, degree, constant);
        for (var j = 0; j < fit.Columns.Length; j++)
        {
            var name = constant ? $"B{j}" : $"B{j + 1}";
            var deviation = Math.Sqrt(fit.Covariance[j][j]);
            Agrees(fit.Estimates[j], json.Number("certified", "estimates", name, "value"), certifiedDigits, name);
            Agrees(deviation, json.Number("certified", "estimates", name, "standard_deviation"), certifiedDigits, "s " + name);
            Agrees(fit.Estimates[j], json.Number("exact_on_inputs_rounded_to_binary64", name), 14.5, "exact " + name);
            Agrees(deviation, json.Number("exact_on_inputs_rounded_to_binary64", "s_" + name), 14.5, "exact s " + name);
        }
    }

    // Powers to the tenth of numbers near 8: columns so nearly dependent that double precision alone leaves seven digits.
    [Fact]
    public void The_polynomial_of_tenth_degree_keeps_its_digits()
    {
        var json = ReferenceData.Json("strd_linear/filip.json");
        var fit = Fit("filip", 10, constant: true);
        for (var j = 0; j <= 10; j++)
        {
            Agrees(fit.Estimates[j], json.Number("certified", "estimates", $"B{j}", "value"), 13, $"B{j}");
            Agrees(Math.Sqrt(fit.Covariance[j][j]), json.Number("certified", "estimates", $"B{j}", "standard_deviation"), 13, $"s B{j}");
        }
    }

    private static void Agrees(double computed, double reference, double digits, string what)
    {
        if (reference == 0) Assert.True(Math.Abs(computed) < 1e-13, $"{what}: {computed}");
        else Assert.True(ReferenceData.Digits(computed, reference) >= digits, $"{what}: {computed:R} {reference:R}, {ReferenceData.Digits(computed, reference):F1} digits");
    }

    private static LeastSquaresSolution Fit(string set, int degree, bool constant)
    {
        var rows = ReferenceData.Csv($"strd_linear/{set}.csv");
        string[] predictors = degree == 0 ? ["x1", "x2", "x3", "x4", "x5", "x6"] : [.. Enumerable.Range(1, degree).Select(k => $"x^{k}")];
        var system = new AugmentedSystem(constant ? ["constant", .. predictors] : predictors);
        foreach (var row in rows)
        {
            DoubleDouble[] cells = degree == 0
                ? [.. predictors.Select(name => new DoubleDouble(ReferenceData.Number(row[name])))]
                : [.. Enumerable.Range(1, degree).Select(k => new DoubleDouble(ReferenceData.Number(row["x"])).Power(k))];
            if (constant) cells = [1, .. cells];
            system.Reading([.. cells.Select(c => c.High)], ReferenceData.Number(row["y"]), 1, [.. cells.Select(c => c.Low)]);
        }

        return system.Solve(1e-13).Require().WithResidualScatter()!;
    }
}
