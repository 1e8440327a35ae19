using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using Commission.Core.Readings;

namespace Commission.Core.Characteristics;

/// <summary>Published data sets carried in the program: the rows, and the results as printed.</summary>
internal static class PublishedSets
{
    /// <summary>The rows of a set.</summary>
    /// <param name="path">Folder and name under <c>shared/reference</c>, without extension.</param>
    /// <param name="words">Columns that hold words.</param>
    public static ReadingTable Table(string path, params ReadOnlySpan<string> words)
    {
        var lines = Text(path + ".csv").Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        ImmutableArray<string> names = [.. lines[0].Split(',')], inWords = [.. words];
        return new ReadingTable
        {
            Source = path,
            Columns = names,
            Rows = [.. lines.Skip(1).Select((line, k) => new ReadingRow
            {
                Number = k + 1,
                Numbers = names.Zip(line.Split(',')).Where(cell => !inWords.Contains(cell.First))
                    .ToImmutableDictionary(cell => cell.First, cell => double.Parse(cell.Second, NumberStyles.Float, CultureInfo.InvariantCulture)),
                Words = names.Zip(line.Split(',')).Where(cell => inWords.Contains(cell.First)).ToImmutableDictionary(cell => cell.First, cell => cell.Second),
            })],
        };
    }

    /// <summary>A published value as printed.</summary>
    /// <param name="path">Folder and name under <c>shared/reference</c>, without extension.</param>
    /// <param name="names">Names that lead to it in the file.</param>
    public static string Printed(string path, params ReadOnlySpan<string> names)
    {
        using var document = JsonDocument.Parse(Text(path + ".json"));
        var element = document.RootElement;
        foreach (var name in names) element = element.GetProperty(name);
        return element.GetString() ?? throw new InvalidOperationException($"{path} has no text at {string.Join('/', names.ToArray())}.");
    }

    private static string Text(string name) => Carried.Text("reference/" + name);
}
