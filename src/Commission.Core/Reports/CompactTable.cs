using System.Collections.Immutable;

namespace Commission.Core.Reports;

/// <summary>A long table as a page sets it: what is the same in every row is told once above it, so that rows stay on one line.</summary>
/// <param name="Table">The table that is left.</param>
/// <param name="Caption">What is the same in every row; empty where nothing is.</param>
internal sealed record CompactTable(ReportBlock.Table Table, string Caption)
{
    // 2026-03-01 10:20: the day, then the time, then the zone.
    private const int Day = 10;
    private const int Zone = 6;

    // About so many letters of small print fit into half of the width of a page; a cell keeps some free for itself.
    private const int HalfPage = 68;
    private const int Around = 2;

    /// <summary>Whether two of them stand beside each other on paper.</summary>
    public bool IsNarrow => Table.Headers.Select((head, at) => Around + Math.Max(head.Length, Table.Rows.Max(row => row[at].Text.Length))).Sum() <= HalfPage;

    /// <summary>The table as it is set.</summary>
    public static CompactTable Of(ReportBlock.Table table)
    {
        if (!table.Long || table.Rows.Length < 2)
            return new CompactTable(table, "");
        var said = new List<string>();
        var kept = new List<int>();
        var rows = table.Rows.Select(row => row.ToArray()).ToList();
        for (var at = 0; at < table.Headers.Length; at++)
        {
            var column = rows.ConvertAll(row => row[at]);
            if (column.TrueForAll(cell => !cell.IsNumber && cell.Text == column[0].Text))
            {
                said.Add($"{table.Headers[at]}: {(column[0].Text.Length == 0 ? "none" : column[0].Text)}");
                continue;
            }

            kept.Add(at);
            if (!column.TrueForAll(cell => IsInstant(cell.Text) && cell.Text[..Day] == column[0].Text[..Day] && cell.Text[^Zone..] == column[0].Text[^Zone..]))
                continue;
            said.Add($"{table.Headers[at]}: {column[0].Text[..Day]} {column[0].Text[^Zone..]}");
            foreach (var row in rows)
                row[at] = row[at].Text[(Day + 1)..^(Zone + 1)];
        }

        return kept.Count == 0 ? new CompactTable(table, "")
            : new CompactTable(table with { Headers = [.. kept.Select(at => table.Headers[at])], Rows = [.. rows.Select(row => kept.Select(at => row[at]).ToImmutableArray())] }, string.Join("; ", said));
    }

    /// <summary>Whether a text is an instant with its zone.</summary>
    public static bool IsInstant(string text) => text.Length > Day + Zone && text[4] == '-' && char.IsAsciiDigit(text[0]) && text[13] == ':' && text[^3] == ':';
}
