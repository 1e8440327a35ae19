using System.Collections.Immutable;

namespace Commission.Core.Readings;

/// <summary>What a column of readings holds.</summary>
public enum ColumnContent
{
    /// <summary>A length; held in mm whatever unit the file used.</summary>
    Length,

    /// <summary>An angle; held in degrees, as the contract's column names have it.</summary>
    Angle,

    /// <summary>A plain number in the unit its name tells.</summary>
    Number,

    /// <summary>A whole number.</summary>
    Whole,

    /// <summary>One word out of a closed list, or free text where the list is empty.</summary>
    Word,

    /// <summary>A direction of approach: <c>+ - plus minus</c>, held as <c>+</c> or <c>-</c>.</summary>
    Direction,
}

/// <summary>A column that a kind of characteristic reads.</summary>
/// <param name="Name">Header with its canonical unit, as <c>measured_mm</c>.</param>
/// <param name="Content">What it holds.</param>
/// <param name="Meaning">One line for the handbook and the help.</param>
public sealed record ColumnSpec(string Name, ColumnContent Content, string Meaning)
{
    /// <summary>Whether a file without the column is refused.</summary>
    public bool Required { get; init; } = true;

    /// <summary>Whether single cells may be empty although the column is required.</summary>
    public bool MayBeEmpty { get; init; }

    /// <summary>The words allowed, where the content is a word from a closed list.</summary>
    public ImmutableArray<string> Words { get; init; } = [];
}

/// <summary>One row of readings, numbers already in canonical units.</summary>
public sealed record ReadingRow
{
    /// <summary>Row number among the data rows, counted from 1: the number by which findings name it.</summary>
    public required int Number { get; init; }

    /// <summary>What it is called where it was read, the number of its row on the sheet, with its place where two have one number; null where it came from a file, and its number is its name.</summary>
    public string? Called { get; init; }

    /// <summary>Line in the file it came from; null where it came from a session.</summary>
    public int? Line { get; init; }

    /// <summary>Numbers by canonical column name.</summary>
    public required ImmutableDictionary<string, double> Numbers { get; init; }

    /// <summary>Words by column name; a direction is <c>+</c> or <c>-</c>.</summary>
    public required ImmutableDictionary<string, string> Words { get; init; }

    /// <summary>Why the row is left out; null where it counts.</summary>
    public string? Excluded { get; init; }

    /// <summary>What was typed, by column, where it is known.</summary>
    public ImmutableDictionary<string, string> Typed { get; init; } = ImmutableDictionary<string, string>.Empty;

    /// <summary>Name of the instrument of this row, where the row has its own.</summary>
    public string? Instrument { get; init; }

    /// <summary>The number in a column that is known to be there.</summary>
    public double this[string column] => Numbers[column];

    /// <summary>The number in a column, or null where the row has none.</summary>
    public double? Maybe(string column) => Numbers.TryGetValue(column, out var value) ? value : null;

    /// <summary>+1 for an approach with increasing position, -1 for a decreasing one, 0 where it is not told.</summary>
    public int Sign(string column = "direction") =>
        Words.TryGetValue(column, out var word) ? word == "+" ? 1 : word == "-" ? -1 : 0 : 0;
}

/// <summary>Readings that one fit uses, as a table.</summary>
public sealed record ReadingTable
{
    /// <summary>Name of the file or session, for messages.</summary>
    public required string Source { get; init; }

    /// <summary>Canonical names of the columns present.</summary>
    public required ImmutableArray<string> Columns { get; init; }

    /// <summary>All rows, those left out too.</summary>
    public required ImmutableArray<ReadingRow> Rows { get; init; }

    /// <summary>What the reader of the file wants to say: unknown columns, converted units.</summary>
    public ImmutableArray<string> Remarks { get; init; } = [];

    /// <summary>The rows that count.</summary>
    public IEnumerable<ReadingRow> Used => Rows.Where(row => row.Excluded is null);

    /// <summary>Whether a column is present.</summary>
    public bool Has(string column) => Columns.Contains(column);
}
