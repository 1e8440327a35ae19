using System.Text;
using Commission.Core.Quantities;

namespace Commission.Core.Reports;

/// <summary>A report as Markdown; lines end with a line feed.</summary>
public static class MarkdownReport
{
    /// <summary>The text.</summary>
    public static string Write(Report report)
    {
        var text = new StringBuilder();
        text.Append("# ").Append(Escaped(report.Title)).Append("\n\n");
        foreach (var section in report.Sections)
        {
            text.Append('#', section.Level + 1).Append(' ').Append(Escaped(section.Title)).Append("\n\n");
            foreach (var block in section.Blocks)
                Append(text, block);
        }

        return text.ToString();
    }

    private static void Append(StringBuilder text, ReportBlock block)
    {
        switch (block)
        {
            case ReportBlock.Paragraph paragraph:
                text.Append(Escaped(paragraph.Text)).Append("\n\n");
                break;
            case ReportBlock.Items { Lines.IsEmpty: false } items:
                foreach (var line in items.Lines)
                    text.Append("- ").Append(Escaped(line)).Append('\n');
                text.Append('\n');
                break;
            case ReportBlock.Verbatim lines:
                foreach (var line in lines.Text)
                    text.Append("    ").Append(Words.Clean(line)).Append('\n');
                text.Append('\n');
                break;
            case ReportBlock.Table { Rows.IsEmpty: false } table:
                Row(text, table.Headers.Select(Escaped));
                Row(text, table.Headers.Select(_ => "---"));
                foreach (var row in table.Rows)
                    Row(text, row.Select(cell => Escaped(cell.Text)));
                text.Append('\n');
                break;
            case ReportBlock.Picture picture:
                text.Append('*').Append(Escaped(picture.Figure.Title)).Append(":* ").Append(Escaped(picture.Figure.Summary)).Append("\n\n");
                break;
        }
    }

    private static void Row(StringBuilder text, IEnumerable<string> cells) => text.Append("| ").AppendJoin(" | ", cells).Append(" |\n");

    // What people typed must not become markup, a link or a row of its own.
    private static string Escaped(string text)
    {
        var clean = new StringBuilder();
        foreach (var c in Words.Clean(text))
        {
            if (c is '\\' or '`' or '*' or '_' or '[' or ']' or '<' or '>' or '|' or '#')
                clean.Append('\\');
            clean.Append(c);
        }

        return clean.ToString();
    }
}
