using System.Collections.Immutable;
using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using Commission.Core.Characteristics;
using Commission.Core.Readings;
using Commission.Proof.Tables;

namespace Commission.Proof.Digits;

/// <summary>Table D: digits that agree with certified values, beside a numeric library where one is installed.</summary>
/// <remarks>NIST/ITL Statistical Reference Datasets, linear least squares; the program's own `columns` kind computes.</remarks>
internal static class DigitsTable
{
    // Ill-conditioned sets certified to fewer attainable digits in double precision: the data themselves are rounded to doubles.
    private static readonly ImmutableHashSet<string> _hard = ["norris", "pontius", "longley", "filip"];

    public static ProofTable Make()
    {
        var table = new ProofTable(
            "Table D: digits. Smallest number of digits in agreement with the certified coefficients and standard deviations",
            "  NIST/ITL StRD, linear least squares; a numeric library in Python beside it where python3 finds one",
            "set", "coefficients", "their sd", "numpy coefficients");
        var folder = ProjectFiles.Find("shared/reference/strd_linear");
        var beside = Beside(folder);
        foreach (var file in Directory.GetFiles(folder, "*.json").Order(StringComparer.Ordinal))
        {
            var name = Path.GetFileNameWithoutExtension(file);
            var (values, deviations) = Digits(file, File.ReadAllText(Path.ChangeExtension(file, ".csv")));
            table.Row(name, Shown(values), Shown(deviations), beside.TryGetValue(name, out var other) ? other : "not installed");
            var least = _hard.Contains(name) ? 12.5 : 13;
            table.Ask($"{name}: at least {least.ToString(CultureInfo.InvariantCulture)} digits", $"{Shown(values)}, {Shown(deviations)}",
                Math.Min(values, deviations) >= least);
        }

        return table;
    }

    private static (double Values, double Deviations) Digits(string file, string csv)
    {
        using var document = JsonDocument.Parse(File.ReadAllText(file));
        var root = document.RootElement;
        ImmutableArray<string> columns = [.. root.GetProperty("columns").EnumerateArray().Select(c => c.GetString()!)];
        var certified = root.GetProperty("certified").GetProperty("estimates").EnumerateObject().ToArray();
        var constant = root.GetProperty("intercept").GetBoolean();
        var words = ImmutableDictionary<string, string>.Empty.Add("response", columns[0]);
        var numbers = ImmutableDictionary<string, double>.Empty;
        if (!constant)
            words = words.Add("no-constant", "yes");
        if (columns.Length == 2 && certified.Length > 2)
        {
            words = words.Add("polynomial", columns[1]);
            numbers = numbers.Add("degree", certified.Length - 1);
        }
        else
        {
            words = words.Add("predictors", string.Join(',', columns.Skip(1)));
        }

        var readings = CsvReadings.Read(file, csv, [], anyNumeric: true).Require();
        var finding = CharacteristicKinds.Find("columns")!.Evaluate(readings, new FitOptions { Words = words, Numbers = numbers }).Require();
        var pairs = certified.Zip(finding.Parameters).ToArray();
        return (pairs.Min(pair => Agreement(pair.First.Value.GetProperty("value"), pair.Second.Value)),
            pairs.Min(pair => Agreement(pair.First.Value.GetProperty("standard_deviation"), pair.Second.StandardUncertainty)));
    }

    // Log relative error; where the certified value is 0, log absolute error. Never more than the 15 digits that are certified.
    private static double Agreement(JsonElement certified, double? computed)
    {
        var wanted = double.Parse(certified.GetString()!, CultureInfo.InvariantCulture);
        if (computed is not { } value)
            return 0;
        var error = wanted == 0 ? Math.Abs(value) : Math.Abs((value - wanted) / wanted);
        return error == 0 ? 15 : Math.Clamp(-Math.Log10(error), 0, 15);
    }

    private static string Shown(double digits) => digits.ToString("F1", CultureInfo.InvariantCulture);

    /// <summary>Digits of the library, by set; empty where python3 or the library is missing.</summary>
    private static Dictionary<string, string> Beside(string folder)
    {
        try
        {
            var start = new ProcessStartInfo("python3", [ProjectFiles.Find("tests/Commission.Proof/Digits/numpy_digits.py"), folder])
            {
                RedirectStandardOutput = true,
                RedirectStandardError = true,
            };
            using var python = Process.Start(start)!;
            var lines = python.StandardOutput.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries);
            python.WaitForExit();
            return python.ExitCode == 0 ? lines.Select(line => line.Split(' ')).ToDictionary(parts => parts[0], parts => parts[1]) : [];
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return []; // no python3 on this machine
        }
    }
}
