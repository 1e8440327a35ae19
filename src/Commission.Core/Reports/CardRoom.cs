using System.Collections.Immutable;
using Commission.Core.Quantities;

namespace Commission.Core.Reports;

/// <summary>
/// How much room the blocks of the card for the wall take on its one page, reckoned from the sizes of the style sheet with letters of the
/// widest usual type. The page is as high as Letter and as wide as A4, so that it is one page on either.
/// </summary>
internal static class CardRoom
{
    /// <summary>Height of both columns together, mm: what Letter leaves between margins of 9 mm under the title, less what stays empty because rows and headings are not parted.</summary>
    public const double PageMm = 465;

    // Half the width of A4 between margins of 9 mm, less half the gap.
    private const double ColumnMm = 93;
    private const double PointMm = Inch.Mm / 72;

    // 7.5 points for text, 7 in tables, lines of 1.2; a rule is a pixel.
    private const double TextMm = 7.5 * PointMm;
    private const double TableMm = 7 * PointMm;
    private const double Line = 1.2;
    private const double RuleMm = Inch.Mm / 96;

    private const double HeadingMm = (9.5 * PointMm * Line) + 1.5 + .8 + RuleMm;
    private const double AroundMm = .4 * TextMm;

    // What a cell keeps free to both sides, with its rule.
    private const double CellMm = 3 * RuleMm;

    // Room of a line, and of a row, in letters' own measure: the size of the type is 1. Lists are indented by 1.2.
    private const double LineEm = (ColumnMm / TextMm) - 1.2;
    private const double RowEm = ColumnMm / TableMm;
    private const double CellEm = CellMm / TableMm;

    /// <summary>Height of a section, mm.</summary>
    public static double Of(ReportSection section) => HeadingMm + section.Blocks.Sum(Of);

    /// <summary>Height of a block, mm.</summary>
    public static double Of(ReportBlock block) => block switch
    {
        ReportBlock.Items items => items.Lines.IsEmpty ? 0 : AroundMm + items.Lines.Sum(line => Lines(line, LineEm) * TextMm * Line),
        ReportBlock.Paragraph paragraph => AroundMm + (Lines(paragraph.Text, LineEm) * TextMm * Line),
        ReportBlock.Table { Rows.IsEmpty: false } table => AroundMm + Rows(Widths(table), table.Rows.Prepend([.. table.Headers.Select(head => new ReportCell(head))])),
        _ => 0,
    };

    /// <summary>Shares of the columns of a table in its width: the longest word of each, and of what is left by the length of their texts.</summary>
    public static ImmutableArray<double> Widths(ReportBlock.Table table)
    {
        var texts = table.Headers.Select((head, at) => table.Rows.Select(row => row[at].Text).Append(head).ToList()).ToList();
        var least = texts.Select(column => CellEm + column.Max(text => text.Split(' ').Max(Em))).ToArray();
        var wanted = texts.Zip(least, (column, width) => Math.Max(0, CellEm + column.Max(Em) - width)).ToArray();
        var (room, asked) = (Math.Max(0, RowEm - least.Sum()), wanted.Sum());
        var widths = least.Zip(wanted, (width, more) => width + (asked > 0 ? more * Math.Min(1, room / asked) : 0)).ToArray();
        return [.. widths.Select(width => width / widths.Sum())];
    }

    private static double Rows(ImmutableArray<double> widths, IEnumerable<ImmutableArray<ReportCell>> rows) =>
        rows.Sum(row => RuleMm + (widths.Zip(row, (width, cell) => Lines(cell.Text, (width * RowEm) - CellEm + .01)).Max() * TableMm * Line));

    // Words stay whole where they fit into a line.
    private static int Lines(string text, double room)
    {
        var (lines, used) = (1, 0.0);
        foreach (var width in text.Split(' ').Select(Em))
        {
            if (used > 0 && used + Em(' ') + width <= room)
            {
                used += Em(' ') + width;
                continue;
            }

            var parts = (int)Math.Max(1, Math.Ceiling(width / room));
            lines += parts - (used == 0 ? 1 : 0);
            used = width - ((parts - 1) * room);
        }

        return lines;
    }

    private static double Em(string text) => text.Sum(Em);

    // Widths of the widest usual sans-serif type (from memory, rounded up).
    private static double Em(char letter) => letter switch
    {
        ' ' or '.' or ',' or ';' or ':' or '\'' or '-' or '/' or '(' or ')' or 'i' or 'j' or 'l' or 'I' or 'f' or 't' or 'r' => .42,
        'm' or 'w' or 'M' or 'W' or '%' or '+' => .96,
        _ => char.IsAsciiDigit(letter) || char.IsAsciiLetterLower(letter) ? .64 : .75,
    };
}
