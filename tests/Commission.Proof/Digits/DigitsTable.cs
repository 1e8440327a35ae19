using System.Collections.Immutable;
using Commission.Core.Readings;
using Commission.Tests;

namespace Commission.Proof.Digits;

/// <summary>Table D: digits that agree with certified values, beside numpy, scipy and R where they are installed.</summary>
/// <remarks>NIST/ITL Statistical Reference Datasets, linear least squares; the program's own `columns` kind computes.</remarks>
internal static class DigitsTable
{
    // Ill-conditioned sets certified to fewer attainable digits in double precision: the data themselves are rounded to doubles.
    private static readonly ImmutableHashSet<string> _hard = ["norris", "pontius", "longley", "filip"];

    public static ProofTable Make()
    {
        var problems = Directory.GetFiles(Repository.At("shared/reference/strd_linear"), "*.json").Order(StringComparer.Ordinal).Select(Problem.Read).ToArray();
        var others = Beside.All.Where(library => problems.Any(problem => library.Of(problem.Name) is not null)).ToArray();
        var table = new ProofTable(
            "Table D: digits. Smallest number of digits in agreement with the certified coefficients and standard deviations",
            others.Length == Beside.All.Count
                ? "  NIST/ITL StRD, linear least squares; coefficients by other libraries beside it, run now"
                : "  NIST/ITL StRD, linear least squares; of numpy, scipy and R those beside it that are installed here",
            ["set", "coefficients", "their sd", .. others.Select(other => other.Name)]);
        foreach (var problem in problems)
        {
            var (values, deviations) = Digits(problem);
            table.Row([problem.Name, Shown(values), Shown(deviations), .. others.Select(other => other.Of(problem.Name) is { } found
                ? Shown(problem.Certified.Zip(found).Min(pair => Agreement(pair.First.Value, pair.Second)))
                : "failed")]);
            var least = _hard.Contains(problem.Name) ? 12.5 : 13;
            table.Ask($"{problem.Name}: at least {least.ToString(CultureInfo.InvariantCulture)} digits", $"{Shown(values)}, {Shown(deviations)}",
                Math.Min(values, deviations) >= least);
        }

        return table;
    }

    private static (double Values, double Deviations) Digits(Problem problem)
    {
        var words = ImmutableDictionary<string, string>.Empty.Add("response", problem.Columns[0]);
        var numbers = ImmutableDictionary<string, double>.Empty;
        if (!problem.Constant)
            words = words.Add("no-constant", "yes");
        if (problem.Degree > 0)
        {
            words = words.Add("polynomial", problem.Columns[1]);
            numbers = numbers.Add("degree", problem.Degree);
        }
        else
        {
            words = words.Add("predictors", string.Join(',', problem.Columns.Skip(1)));
        }

        var readings = CsvReadings.Read(problem.Csv, File.ReadAllText(problem.Csv), [], anyNumeric: true).Require();
        var finding = CharacteristicKinds.Find("columns")!.Evaluate(readings, new FitOptions { Words = words, Numbers = numbers }).Require();
        var pairs = problem.Certified.Zip(finding.Parameters).ToArray();
        return (pairs.Min(pair => Agreement(pair.First.Value, pair.Second.Value)),
            pairs.Min(pair => Agreement(pair.First.Deviation, pair.Second.StandardUncertainty)));
    }

    // Log relative error; where the certified value is 0, log absolute error. Never more than the 15 digits that are certified.
    private static double Agreement(double wanted, double? computed)
    {
        if (computed is not { } value)
            return 0;
        var error = wanted == 0 ? Math.Abs(value) : Math.Abs((value - wanted) / wanted);
        return error == 0 ? 15 : Math.Clamp(-Math.Log10(error), 0, 15);
    }

    private static string Shown(double digits) => (digits + 0.0).ToString("F1", CultureInfo.InvariantCulture);
}
