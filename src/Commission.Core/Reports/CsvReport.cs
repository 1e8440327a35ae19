using System.Text;
using Commission.Core.Quantities;

namespace Commission.Core.Reports;

/// <summary>The tables of a report as comma-separated text: each table with a comment line, a header and its rows.</summary>
public static class CsvReport
{
    /// <summary>The text; lines end with a line feed.</summary>
    public static string Write(Report report)
    {
        var text = new StringBuilder();
        text.Append("# ").Append(Words.Clean(report.Title)).Append('\n');
        foreach (var section in report.Sections)
        {
            foreach (var table in section.Blocks.OfType<ReportBlock.Table>().Where(t => !t.Rows.IsEmpty))
            {
                text.Append("\n# ").Append(table.Name).Append(": ").Append(Words.Clean(section.Title)).Append('\n');
                text.AppendJoin(',', table.Headers.Select(header => Quoted(header))).Append('\n');
                foreach (var row in table.Rows)
                    text.AppendJoin(',', row.Select(Cell)).Append('\n');
            }
        }

        return text.ToString();
    }

    /// <summary>A cell of the file. Text that a spreadsheet would run as a formula gets an apostrophe in front; numbers stand as they are.</summary>
    public static string Cell(ReportCell cell)
    {
        if (cell.IsNumber)
            return cell.Text;
        var clean = Words.Clean(cell.Text);
        return Quoted(clean.TrimStart() is ['=' or '+' or '-' or '@' or '\uFF1D' or '\uFF0B' or '\uFF0D' or '\uFF20', ..] ? "'" + clean : clean);
    }

    private static string Quoted(string text) =>
        text.AsSpan().IndexOfAny(",;\"#") >= 0 ? "\"" + text.Replace("\"", "\"\"", StringComparison.Ordinal) + "\"" : text;
}
