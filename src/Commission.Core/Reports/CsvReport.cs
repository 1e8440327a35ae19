using System.Collections.Immutable;
using System.Text;
using Commission.Core.Quantities;

namespace Commission.Core.Reports;

/// <summary>A report as comma-separated text: each table with a comment line, a header and its rows; sentences as tables of one column, so that none is lost.</summary>
public static class CsvReport
{
    /// <summary>The text; lines end with a line feed.</summary>
    public static string Write(Report report)
    {
        var text = new StringBuilder();
        text.Append("# ").Append(Words.Clean(report.Title)).Append('\n');
        if (report.Practice)
            text.Append("# PRACTICE\n");
        foreach (var section in report.Sections)
        {
            foreach (var table in section.Blocks.Select(Table).Where(t => !t.Rows.IsEmpty))
            {
                text.Append("\n# ").Append(table.Name).Append(": ").Append(Words.Clean(section.Title)).Append('\n');
                text.AppendJoin(',', table.Headers.Select(header => Quoted(header))).Append('\n');
                foreach (var row in table.Rows)
                    text.AppendJoin(',', row.Select(Cell)).Append('\n');
            }
        }

        return text.ToString();
    }

    private static ReportBlock.Table Table(ReportBlock block) => block switch
    {
        ReportBlock.Table table => table,
        ReportBlock.Paragraph paragraph => Sentences([paragraph.Text]),
        ReportBlock.Items items => Sentences(items.Lines),
        ReportBlock.Verbatim lines => Sentences(lines.Text),
        ReportBlock.Picture picture => Sentences([picture.Figure.Summary]),
        _ => throw new System.Diagnostics.UnreachableException(),
    };

    private static ReportBlock.Table Sentences(ImmutableArray<string> lines) => new("text", ["text"], [.. lines.Select(line => (ImmutableArray<ReportCell>)[line])]);

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
