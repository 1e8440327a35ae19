using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Readings;

namespace Commission.Core.Characteristics;

/// <summary>A reading as a run or a journal keeps it: what its cell gave by name, and the value taken.</summary>
public sealed record KeptReading
{
    /// <summary>Numbers of its cell by column, canonical units.</summary>
    public required IReadOnlyDictionary<string, double> Given { get; init; }

    /// <summary>Words of its cell by column.</summary>
    public required IReadOnlyDictionary<string, string> Words { get; init; }

    /// <summary>What was typed.</summary>
    public required string Typed { get; init; }

    /// <summary>The value understood, canonical unit of its column.</summary>
    public required double Value { get; init; }

    /// <summary>Its column; null where only the kind can tell: then it is the number the kind still asks for.</summary>
    public string? Column { get; init; }

    /// <summary>Why it is left out; null where it counts.</summary>
    public string? Excluded { get; init; }

    /// <summary>Name of its instrument, where it has its own.</summary>
    public string? Instrument { get; init; }

    /// <summary>Number of its row on the sheet, from 1; null where it has none.</summary>
    public int? Number { get; init; }

    /// <summary>Name of its place.</summary>
    public string? Place { get; init; }

    /// <summary>The table that a kind reads, made of kept readings.</summary>
    /// <param name="source">Name of the run or finding, for messages.</param>
    /// <param name="kind">The kind; null where no kind is known, then each reading needs its column.</param>
    /// <param name="readings">The readings in their order.</param>
    public static ReadingTable Table(string source, CharacteristicKind? kind, IEnumerable<KeptReading> readings)
    {
        var all = readings.ToList();
        var shared = all.GroupBy(reading => reading.Number).Where(group => group.Count() > 1).Select(group => group.Key).ToHashSet();
        var rows = all.Select((reading, at) => reading.Row(kind, at + 1) with { Called = reading.Name(shared.Contains(reading.Number)) }).ToImmutableArray();
        return new ReadingTable { Source = source, Columns = [.. rows.SelectMany(row => row.Numbers.Keys.Concat(row.Words.Keys)).Distinct().Order(StringComparer.Ordinal)], Rows = rows };
    }

    // Sheets of several steps count each from 1.
    private string? Name(bool isShared) => Number is not { } number ? null
        : string.Create(CultureInfo.InvariantCulture, $"{number}{(isShared && Place is not null ? $" ({PlainText.Of(Place)})" : "")}");

    private ReadingRow Row(CharacteristicKind? kind, int number)
    {
        // A count such as that of a set-up is a number in the plan and a word to the kind that reads it.
        var words = kind is null ? [] : kind.Columns.Where(IsWord).Select(column => column.Name).ToHashSet();
        var column = Column ?? kind?.Columns.LastOrDefault(spec => spec.Required && !IsWord(spec) && !Given.ContainsKey(spec.Name))?.Name ?? "value";
        return new ReadingRow
        {
            Number = number,
            Numbers = Given.Where(pair => !words.Contains(pair.Key)).ToImmutableDictionary().SetItem(column, Value),
            Words = Words.ToImmutableDictionary().AddRange(Given.Where(pair => words.Contains(pair.Key)).Select(pair => KeyValuePair.Create(pair.Key, pair.Value.ToString("0.######", CultureInfo.InvariantCulture)))),
            Typed = ImmutableDictionary<string, string>.Empty.Add(column, Typed),
            Excluded = Excluded,
            Instrument = Instrument,
        };
    }

    private static bool IsWord(ColumnSpec column) => column.Content is ColumnContent.Word or ColumnContent.Direction;
}
