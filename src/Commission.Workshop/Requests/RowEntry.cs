using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Readings;

namespace Commission.Workshop.Requests;

/// <summary>A row of a table as a reading of the journal: one of its numbers is what was read, the others say where and how.</summary>
internal static class RowEntry
{
    /// <summary>The reading.</summary>
    /// <param name="row">The row.</param>
    /// <param name="table">Its table.</param>
    /// <param name="kind">The kind that evaluates it.</param>
    /// <param name="step">Path of the step, or the procedure's name.</param>
    /// <param name="place">Where the row comes from, in words.</param>
    internal static EntryBody.ReadingTaken Of(ReadingRow row, ReadingTable table, CharacteristicKind kind, string step, string place)
    {
        var column = Measured(kind, table);
        return new()
        {
            Recorded = row.Number,
            Step = step,
            Cell = row.Number - 1,
            Place = place,
            Typed = row.Typed.GetValueOrDefault(column) ?? row[column].ToString("R", CultureInfo.InvariantCulture),
            Value = row[column],
            Unit = column.EndsWith("_mm", StringComparison.Ordinal) ? "mm" : column.EndsWith("_deg", StringComparison.Ordinal) ? "deg" : "1",
            Given = row.Numbers.Remove(column).ToImmutableSortedDictionary(StringComparer.Ordinal),
            Words = row.Words.ToImmutableSortedDictionary(StringComparer.Ordinal),
            Instrument = row.Instrument,
        };
    }

    // What was read is the last required number: the columns before it say where and how it was read.
    private static string Measured(CharacteristicKind kind, ReadingTable table) =>
        kind.Columns.LastOrDefault(c => c.Required && c.Content is not (ColumnContent.Word or ColumnContent.Direction))?.Name ?? table.Columns[^1];
}
