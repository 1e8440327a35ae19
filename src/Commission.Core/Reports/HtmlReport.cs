using System.Collections.Immutable;
using System.Globalization;
using System.Text;

namespace Commission.Core.Reports;

/// <summary>A report as one HTML file: no script, nothing fetched, pictures inside, fit for paper of A4 and Letter size.</summary>
public static class HtmlReport
{
    // Beyond this many columns a table is set small, so that it fits on paper held upright.
    private const int WideColumns = 8;

    // Handles, single words and instants stay on one line.
    private const int ShortText = 14;
    private const int InstantText = 26;

    // A sentence needs a column that it does not fill with single words.
    private const int LongText = 60;

    private const string Style =
        """
        body{font-family:sans-serif;font-size:11pt;line-height:1.35;max-width:180mm;margin:10mm auto;padding:0 4mm;color:#111;background:#fff}
        h1{font-size:17pt}h2{font-size:14pt;border-bottom:1px solid #888;margin-top:1.4em}h3{font-size:12pt;margin-bottom:.3em}
        table{border-collapse:collapse;font-size:9.5pt;margin:.5em 0;max-width:100%}
        th,td{border:1px solid #aaa;padding:1px 5px;text-align:left;vertical-align:top}td.n{text-align:right;font-variant-numeric:tabular-nums;white-space:nowrap}
        figure{margin:.6em 0;break-inside:avoid}figcaption{font-size:9.5pt}svg{max-width:100%;height:auto}
        table.w{font-size:7.5pt}table.w td,table.w th{padding:1px 3px}th{background:#f1f1ee}td.t{white-space:nowrap}td:not(.n,.t){overflow-wrap:break-word}
        pre{font-size:9pt;background:#f6f6f3;padding:4px 8px;white-space:pre-wrap}
        .card{page:card;max-width:196mm;font-size:7.5pt;line-height:1.2;margin:4mm auto;columns:2;column-gap:5mm}.card h1,.card .practice{column-span:all}.card h1{margin:0 0 1mm;font-size:14pt}
        .card h2{font-size:9.5pt;margin:1.5mm 0 .8mm;break-after:avoid}.card tr,.card li{break-inside:avoid}.card table{font-size:7pt;margin:.2em 0;width:100%;table-layout:fixed}
        .card td,.card th{padding:0 1px;overflow-wrap:anywhere}.card td.t{white-space:normal}.card ul{margin:.2em 0;padding-left:1.2em}.card p{margin:.2em 0;overflow-wrap:anywhere}
        .practice{border:2px solid #111;padding:2px 6px;font-weight:bold}caption{text-align:left;font-size:7.5pt;padding:1px 0}td.l{min-width:45mm}.card td.l{min-width:0}
        @media print{body{margin:0;max-width:none;padding:0 1px;font-size:9pt;line-height:1.22}h1{font-size:15pt}h2{font-size:12pt;margin:.8em 0 .3em;clear:both}h3{font-size:10pt;margin:.6em 0 .1em;clear:both}
        p,ul{margin:.25em 0}ul{padding-left:1.3em}table{font-size:8pt;margin:.3em 0}table.w,caption{font-size:7pt}table.w td,table.w th{padding:0 1.5px}.half{columns:2;column-gap:5mm}.half table{margin-top:0;width:100%}pre{columns:2;font-size:7.5pt}
        figure{float:right;width:86mm;margin:.2em 0 .4em 3mm}figure svg{width:86mm;font-size:14px}figure+table.w{font-size:6.5pt}table.w td:first-child{overflow-wrap:anywhere}figcaption{font-size:8pt}h2,h3{break-after:avoid}tr,li{break-inside:avoid}}@page{margin:14mm}@page card{margin:9mm}
        """;

    /// <summary>The text; lines end with a line feed.</summary>
    public static string Write(Report report)
    {
        var text = new StringBuilder();
        text.Append("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n");
        text.Append("<meta name=\"viewport\" content=\"width=device-width\">\n");
        text.Append("<title>").Append(Escaped(report.Title)).Append("</title>\n<style>\n").Append(Style.ReplaceLineEndings("\n")).Append("\n</style>\n</head>\n").Append(report.OnePage ? "<body class=\"card\">\n" : "<body>\n");
        if (report.Practice)
            text.Append("<p class=\"practice\">PRACTICE</p>\n");
        text.Append("<h1>").Append(Escaped(report.Title)).Append("</h1>\n");
        foreach (var section in report.Sections)
        {
            var heading = (section.Level + 1).ToString(CultureInfo.InvariantCulture);
            if (report.OnePage)
                text.Append("<section>\n");
            text.Append("<h").Append(heading).Append('>').Append(Escaped(section.Title)).Append("</h").Append(heading).Append(">\n");
            foreach (var block in section.Blocks)
                Append(text, block, report.OnePage);
            if (report.OnePage)
                text.Append("</section>\n");
        }

        return text.Append("</body>\n</html>\n").ToString();
    }

    private static void Append(StringBuilder text, ReportBlock block, bool onePage)
    {
        switch (block)
        {
            case ReportBlock.Paragraph paragraph:
                text.Append("<p>").Append(Escaped(paragraph.Text)).Append("</p>\n");
                break;
            case ReportBlock.Items { Lines.IsEmpty: false } items:
                text.Append("<ul>\n");
                foreach (var line in items.Lines)
                    text.Append("<li>").Append(Escaped(line)).Append("</li>\n");
                text.Append("</ul>\n");
                break;
            case ReportBlock.Verbatim lines:
                text.Append("<pre>").AppendJoin('\n', lines.Text.Select(Escaped)).Append("</pre>\n");
                break;
            case ReportBlock.Table { Rows.IsEmpty: false } table:
                Append(text, table, onePage);
                break;
            case ReportBlock.Picture picture:
                text.Append("<figure>\n").Append(SvgFigure.Write(picture.Figure)).Append("<figcaption>").Append(Escaped(picture.Figure.Summary)).Append("</figcaption>\n</figure>\n");
                break;
        }
    }

    private static void Append(StringBuilder text, ReportBlock.Table table, bool onePage)
    {
        var compact = CompactTable.Of(table);
        table = compact.Table;
        var halves = compact.Table.Long && compact.IsNarrow;
        text.Append(halves ? "<div class=\"half\">\n" : "").Append(table.Long || table.Headers.Length > WideColumns ? "<table class=\"w\">\n" : "<table>\n");
        if (compact.Caption.Length > 0)
            text.Append("<caption>Every row: ").Append(Escaped(compact.Caption)).Append("</caption>\n");
        if (onePage)
            Columns(text, CardRoom.Widths(table));
        text.Append("<thead><tr>");
        foreach (var header in table.Headers)
            text.Append("<th>").Append(Escaped(header)).Append("</th>");
        text.Append("</tr></thead>\n");
        foreach (var row in table.Rows)
        {
            text.Append("<tr>");
            foreach (var cell in row)
                text.Append(cell.IsNumber ? "<td class=\"n\">" : Whole(cell.Text) ? "<td class=\"t\">" : cell.Text.Length > LongText ? "<td class=\"l\">" : "<td>").Append(Escaped(cell.Text)).Append("</td>");
            text.Append("</tr>\n");
        }

        text.Append("</table>\n").Append(halves ? "</div>\n" : "");
    }

    // Where the page is one, widths do not depend on the typeface: its length was reckoned with them.
    private static void Columns(StringBuilder text, ImmutableArray<double> shares)
    {
        text.Append("<colgroup>");
        foreach (var share in shares)
            text.Append("<col style=\"width:").Append((100 * share).ToString("F1", CultureInfo.InvariantCulture)).Append("%\">");
        text.Append("</colgroup>\n");
    }

    private static bool Whole(string text) => text.Length <= ShortText || (text.Length <= InstantText && CompactTable.IsInstant(text));

    private static string Escaped(string text) => SvgFigure.Escaped(text).Replace("\"", "&quot;", StringComparison.Ordinal);
}
