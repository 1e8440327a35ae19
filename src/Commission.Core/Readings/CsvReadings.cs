using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Quantities;

namespace Commission.Core.Readings;

/// <summary>Reads a table of readings from text: the separator comes from the header line, units from the column names.</summary>
public static class CsvReadings
{
    private static readonly ImmutableArray<ColumnSpec> Everywhere =
    [
        new("instrument", ColumnContent.Word, "name of the instrument of this row") { Required = false },
        new("excluded", ColumnContent.Word, "why the row is left out, or yes") { Required = false },
    ];

    /// <summary>Reads a table.</summary>
    /// <param name="fileName">Name for the messages.</param>
    /// <param name="text">The whole text.</param>
    /// <param name="columns">The columns wanted.</param>
    /// <param name="anyNumeric">Whether every further column of numbers is taken too, as it stands, without any conversion.</param>
    /// <returns>The table, or all problems at once.</returns>
    public static Outcome<ReadingTable> Read(string fileName, string text, IReadOnlyList<ColumnSpec> columns, bool anyNumeric = false)
    {
        var lines = CsvLine.Split(text);
        if (lines.Count == 0)
            return new Problem("the file holds no line of data", $"Begin with a header line: {Wanted(columns)}") { File = fileName, Line = 1, Column = 1 };
        var separator = CsvLine.SeparatorOf(lines[0].Text);
        var header = CsvLine.Cells(lines[0], separator);
        var reader = new TableReader(fileName, separator != ',');
        var bound = reader.Bind(lines[0].Number, header, [.. columns, .. Everywhere], anyNumeric);
        var body = lines.Skip(1).Select(line => (Line: line.Number, Cells: CsvLine.Cells(line, separator))).ToList();
        if (anyNumeric)
            bound = reader.DropWords(bound, body.Select(row => row.Cells));
        if (body.Count == 0)
            reader.Refuse(lines[0].Number, 1, null, "there is a header and no row below it", "Add one row for each reading");
        var rows = ImmutableArray.CreateBuilder<ReadingRow>(body.Count);
        foreach (var (line, cells) in body)
            rows.Add(reader.Row(rows.Count + 1, line, cells, bound));
        if (reader.Problems.Count > 0)
            return new Outcome<ReadingTable>.Bad([.. reader.Problems]);
        return new ReadingTable
        {
            Source = fileName,
            Columns = [.. bound.Where(b => b is not null).Select(b => b!.Spec.Name)],
            Rows = rows.ToImmutable(),
            Remarks = [.. reader.Remarks],
        };
    }

    private static string Wanted(IReadOnlyList<ColumnSpec> columns) =>
        columns.Count == 0 ? "names of the columns" : string.Join(",", columns.Where(c => c.Required).Select(c => c.Name));
}

/// <summary>A column of the file bound to what is wanted: conversion from the unit of its header.</summary>
/// <param name="Header">The header as it stands.</param>
/// <param name="Spec">What it is.</param>
/// <param name="Factor">Factor to the canonical unit.</param>
internal sealed record BoundColumn(string Header, ColumnSpec Spec, double Factor);

/// <summary>Reads rows against bound columns and keeps all problems and remarks.</summary>
internal sealed class TableReader(string fileName, bool commaIsDecimal)
{
    private static readonly (string Suffix, ColumnContent Content, double Factor)[] UnitSuffixes =
    [
        ("_mm", ColumnContent.Length, 1), ("_in", ColumnContent.Length, Inch.Mm), ("_um", ColumnContent.Length, 1e-3),
        ("_deg", ColumnContent.Angle, 1), ("_rad", ColumnContent.Angle, 180 / Math.PI),
    ];

    public List<Problem> Problems { get; } = [];

    public List<string> Remarks { get; } = [];

    public void Refuse(long line, long column, string? field, string what, string remedy) =>
        Problems.Add(new Problem(what, remedy) { File = fileName, Line = line, Column = column, Field = field });

    public List<BoundColumn?> Bind(int line, List<CsvCell> header, IReadOnlyList<ColumnSpec> specs, bool anyNumeric)
    {
        var bound = new List<BoundColumn?>();
        foreach (var cell in header)
        {
            var match = Match(cell.Text, specs);
            if (match is null && anyNumeric && cell.Text.Length > 0)
                match = new BoundColumn(cell.Text, new ColumnSpec(cell.Text, ColumnContent.Number, "") { Required = false }, 1);
            if (match is null)
                Remarks.Add(cell.Text.Length == 0 ? "A column without a name was not used." : $"The column {cell.Text} is not known here and was not used.");
            else if (bound.Any(b => b?.Spec.Name == match.Spec.Name))
                Refuse(line, cell.Column, cell.Text, $"the column {match.Spec.Name} stands twice", "Keep one of them");
            else if (match.Spec.Content is ColumnContent.Length or ColumnContent.Angle && !match.Header.Equals(match.Spec.Name, StringComparison.OrdinalIgnoreCase))
                Remarks.Add($"{match.Header} was converted to {match.Spec.Name}.");
            bound.Add(match);
        }
        foreach (var spec in specs.Where(s => s.Required && bound.All(b => b?.Spec.Name != s.Name)))
            Refuse(line, 1, spec.Name, $"the column {spec.Name} is missing", MissingRemedy(spec, header));
        return bound;
    }

    /// <summary>Columns that hold no number at all are words; where any column of numbers is taken they are left aside.</summary>
    public List<BoundColumn?> DropWords(List<BoundColumn?> bound, IEnumerable<List<CsvCell>> body)
    {
        var rows = body.ToList();
        var result = new List<BoundColumn?>(bound.Count);
        for (var i = 0; i < bound.Count; i++)
        {
            var column = bound[i];
            var words = column is { Spec: { Content: ColumnContent.Number, Required: false } }
                && rows.Count > 0 && !rows.Any(cells => i < cells.Count && Number(cells[i].Text) is not null);
            if (words)
                Remarks.Add($"The column {column!.Header} holds no number and was not used.");
            result.Add(words ? null : column);
        }
        return result;
    }

    public ReadingRow Row(int number, int line, List<CsvCell> cells, List<BoundColumn?> bound)
    {
        var numbers = ImmutableDictionary.CreateBuilder<string, double>();
        var words = ImmutableDictionary.CreateBuilder<string, string>();
        var typed = ImmutableDictionary.CreateBuilder<string, string>();
        var excluded = ExclusionOf(cells, bound);
        if (cells.Count > bound.Count && cells.Skip(bound.Count).Any(c => c.Text.Length > 0))
        {
            Refuse(line, cells[bound.Count].Column, null, $"the row has {cells.Count} cells and the header {bound.Count}",
                "Write decimal points, or part the columns with semicolons where commas are decimal");
        }
        for (var i = 0; i < bound.Count; i++)
        {
            if (bound[i] is not { } column || column.Spec.Name == "excluded")
                continue;
            var cell = i < cells.Count ? cells[i] : new CsvCell("", cells.Count == 0 ? 1 : cells[^1].Column + cells[^1].Text.Length);
            if (cell.Text.Length == 0)
            {
                if (column.Spec is { Required: true, MayBeEmpty: false } && excluded is null)
                    Refuse(line, cell.Column, column.Header, "the cell is empty", "Type the reading, or put a reason into a column named excluded");
                continue;
            }
            typed[column.Spec.Name] = cell.Text;
            Take(line, cell, column, excluded is not null, numbers, words);
        }
        return new ReadingRow
        {
            Number = number,
            Line = line,
            Numbers = numbers.ToImmutable(),
            Words = words.ToImmutable(),
            Typed = typed.ToImmutable(),
            Excluded = excluded,
            Instrument = words.TryGetValue("instrument", out var name) ? name : null,
        };
    }

    private void Take(int line, CsvCell cell, BoundColumn column, bool lenient,
        ImmutableDictionary<string, double>.Builder numbers, ImmutableDictionary<string, string>.Builder words)
    {
        var name = column.Spec.Name;
        switch (column.Spec.Content)
        {
            case ColumnContent.Direction:
                if (Direction(cell.Text) is { } direction)
                    words[name] = direction;
                else if (!lenient)
                    Refuse(line, cell.Column, column.Header, $"\"{cell.Text}\" is not a direction", "Write + or -, or plus or minus");
                break;
            case ColumnContent.Word:
                var word = column.Spec.Words.IsEmpty ? cell.Text : column.Spec.Words.FirstOrDefault(w => w.Equals(Signs(cell.Text), StringComparison.OrdinalIgnoreCase));
                if (word is not null)
                    words[name] = word;
                else if (!lenient)
                    Refuse(line, cell.Column, column.Header, $"\"{cell.Text}\" is not known here", $"Write one of: {string.Join(", ", column.Spec.Words)}");
                break;
            default:
                var number = Number(cell.Text);
                if (number is null && !lenient)
                    Refuse(line, cell.Column, column.Header, $"\"{cell.Text}\" is not a number", NumberRemedy(cell.Text));
                else if (number is { } whole && column.Spec.Content == ColumnContent.Whole && whole != Math.Floor(whole) && !lenient)
                    Refuse(line, cell.Column, column.Header, $"\"{cell.Text}\" is not a whole number", "Write it without decimals");
                else if (number is { } value)
                    numbers[name] = column.Factor == 1 ? value : value * column.Factor;
                break;
        }
    }

    private string NumberRemedy(string text) =>
        !commaIsDecimal && text.Contains(',', StringComparison.Ordinal)
            ? "Write a decimal point, or part the columns with semicolons where commas are decimal"
            : "Write digits with one decimal sign and no unit; the unit stands in the column name";

    private static string? ExclusionOf(List<CsvCell> cells, List<BoundColumn?> bound)
    {
        var index = bound.FindIndex(b => b?.Spec.Name == "excluded");
        var text = index >= 0 && index < cells.Count ? cells[index].Text : "";
        return text.Length == 0 || text.Equals("no", StringComparison.OrdinalIgnoreCase) ? null : text;
    }

    private static BoundColumn? Match(string header, IReadOnlyList<ColumnSpec> specs)
    {
        var same = specs.FirstOrDefault(s => s.Name.Equals(header, StringComparison.OrdinalIgnoreCase));
        if (same is not null)
            return new BoundColumn(header, same, 1);
        foreach (var (suffix, content, factor) in UnitSuffixes)
        {
            if (!header.EndsWith(suffix, StringComparison.OrdinalIgnoreCase))
                continue;
            var stem = header[..^suffix.Length];
            var spec = specs.FirstOrDefault(s => s.Content == content && Stem(s.Name).Equals(stem, StringComparison.OrdinalIgnoreCase));
            if (spec is not null)
                return new BoundColumn(header, spec, factor);
        }
        return null;
    }

    private static string MissingRemedy(ColumnSpec spec, List<CsvCell> header)
    {
        var stem = Stem(spec.Name);
        var bare = header.FirstOrDefault(cell => cell.Text.Equals(stem, StringComparison.OrdinalIgnoreCase));
        if (bare is not null && stem != spec.Name)
            return $"Put the unit into the name of the column {bare.Text}: {spec.Name}";
        return spec.Meaning.Length == 0 ? $"Add a column named {spec.Name}" : $"Add a column named {spec.Name}: {spec.Meaning}";
    }

    private static string Stem(string name)
    {
        foreach (var (suffix, _, _) in UnitSuffixes)
        {
            if (name.EndsWith(suffix, StringComparison.Ordinal))
                return name[..^suffix.Length];
        }
        return name;
    }

    private double? Number(string text)
    {
        var plain = Signs(text);
        if (commaIsDecimal && plain.Contains(',', StringComparison.Ordinal))
        {
            if (plain.Contains('.', StringComparison.Ordinal))
                return null;
            plain = plain.Replace(',', '.');
        }
        const NumberStyles style = NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent;
        return double.TryParse(plain, style, CultureInfo.InvariantCulture, out var value) && double.IsFinite(value) ? value : null;
    }

    private static string Signs(string text) => text.Replace('\u2212', '-');

    private static string? Direction(string text) => Signs(text).ToUpperInvariant() switch
    {
        "+" or "PLUS" => "+",
        "-" or "MINUS" => "-",
        _ => null,
    };
}
