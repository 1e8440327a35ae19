using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Readings;

namespace Commission.Core.Reports;

/// <summary>Readings of a store as the table a kind reads, so that pictures can be drawn again.</summary>
internal static class FindingReadings
{
    /// <summary>The table; null where the readings do not fill the kind's columns.</summary>
    public static ReadingTable? Table(CharacteristicKind kind, IReadOnlyList<ReadingRecord> readings)
    {
        var given = readings.SelectMany(r => r.Taken.Body.Given.Keys.Concat(r.Taken.Body.Words.Keys)).ToHashSet();
        // What was read is the one required column that was not given with the cell.
        if (kind.Columns.Where(c => c.Required && !given.Contains(c.Name)).ToList() is not [var read])
            return null;
        return new ReadingTable
        {
            Source = "store",
            Columns = [.. kind.Columns.Select(c => c.Name).Where(name => name == read.Name || given.Contains(name))],
            Rows = [.. readings.Select((reading, at) => Row(reading, at + 1, read.Name))],
        };
    }

    private static ReadingRow Row(ReadingRecord reading, int number, string read)
    {
        var taken = reading.Taken.Body;
        return new ReadingRow
        {
            Number = number,
            Numbers = taken.Given.ToImmutableDictionary().SetItem(read, taken.Value),
            Words = taken.Words.ToImmutableDictionary(),
            Excluded = reading.Standing is ReadingStanding.Excluded left ? left.Reason : null,
            Instrument = taken.Instrument,
        };
    }
}
