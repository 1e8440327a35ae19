using System.Globalization;
using System.Text.Json;
using Commission.Tests;

namespace Commission.Core.Tests.Support;

/// <summary>Published data in <c>shared/reference</c>. Fails, never skips, where a file is absent.</summary>
internal static class ReferenceData
{
    private static readonly string Folder = Repository.At("shared", "reference");

    /// <summary>A CSV file as rows of text by column name.</summary>
    public static IReadOnlyList<IReadOnlyDictionary<string, string>> Csv(string path)
    {
        var lines = File.ReadAllLines(Path.Combine(Folder, path));
        var header = lines[0].Split(',');
        return [.. lines.Skip(1).Where(line => line.Length > 0).Select(line =>
        {
            var cells = line.Split(',');
            return header.Select((name, k) => (name, cells[k])).ToDictionary(cell => cell.name, cell => cell.Item2);
        })];
    }

    /// <summary>A column of a CSV file as numbers.</summary>
    public static double[] Column(string path, string column) => [.. Csv(path).Select(row => Number(row[column]))];

    /// <summary>A JSON file.</summary>
    public static JsonElement Json(string path)
    {
        using var document = JsonDocument.Parse(File.ReadAllText(Path.Combine(Folder, path)));
        return document.RootElement.Clone();
    }

    /// <summary>The text of a JSON value by a path of names.</summary>
    public static double Number(this JsonElement element, params string[] path)
    {
        foreach (var name in path) element = element.GetProperty(name);
        return element.ValueKind == JsonValueKind.Number ? element.GetDouble() : Number(element.GetString()!);
    }

    /// <summary>A number as printed.</summary>
    public static double Number(string text) => double.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture);

    /// <summary>Digits in which a computed value agrees with a reference: minus the decimal logarithm of the relative difference, 17 at most.</summary>
    public static double Digits(double computed, double reference)
    {
        var difference = reference == 0 ? Math.Abs(computed) : Math.Abs(computed - reference) / Math.Abs(reference);
        return difference == 0 ? 17 : Math.Min(17, -Math.Log10(difference));
    }
}
