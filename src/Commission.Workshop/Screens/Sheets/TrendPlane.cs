using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Quantities;
using Commission.Core.Upkeep;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>
/// The control chart of a trend in cells: a row of names, the plane, a row of months. One row is a round number of the unit, so that
/// a result can be read off; results of an earlier epoch that would flatten the present one are left to a sentence.
/// </summary>
internal sealed class TrendPlane
{
    private const int LeastLabel = 5;
    private const int RightMargin = 15;

    // An earlier epoch stands on the sheet while it makes the range of the present one at most so much larger.
    private const double MostWiden = 2;
    private const double LeastMonthColumns = 5;

    // Room for the mark of the level between two results of one day.
    private const int ResultGap = 2;

    private static readonly int[] Spacings = [1, 3, 12, 24, 60, 120, 240];

    private readonly TrendView view;
    private readonly int width;
    private readonly char[][] cells;
    private readonly List<char[]> names = [];
    private readonly Unit unit;
    private readonly double top, step;
    private readonly int label;
    private readonly DateTimeOffset from;
    private readonly double days;
    private readonly Dictionary<(long Sequence, bool IsResult), int> columns;

    internal TrendPlane(TrendView view, int width, int rows, Unit unit)
    {
        (this.view, this.width, this.unit) = (view, width, unit);
        cells = [.. Enumerable.Range(0, rows).Select(_ => Blank())];
        Drawn = OnSheet();
        (top, step) = Ruler(rows);
        label = Math.Max(LeastLabel, Math.Max(Number(top).Length, Number(top - ((rows - 1) * step)).Length));
        from = Drawn[0].At;
        if (view.Events.LastOrDefault(change => change.BeginsBaseline && change.At <= from) is { } begins && (from - begins.At).TotalDays < 62)
            from = begins.At;
        var to = view.NextCheck is { } next && next > Drawn[^1].At ? next : Drawn[^1].At;
        days = Math.Max((to - from).TotalDays, 1);
        columns = SideBySide();
    }

    // The numbers of the ruler stand left of it, whole; the results begin a little further right.
    private int LimitColumn => label + 2;

    private int First => LimitColumn + 4;

    /// <summary>The results that stand on the sheet.</summary>
    internal ImmutableArray<TrendPoint> Drawn { get; }

    /// <summary>The changes that stand on the sheet.</summary>
    internal ImmutableArray<TrendEvent> Changes => [.. view.Events.Where(change => Inside(change.At))];

    /// <summary>Limits as values of the trend: one where the quantity has no sign, else one on either side.</summary>
    internal static ImmutableArray<double> Limits(TrendView view) =>
        view.Limit is not { } limit ? [] : view.IsSigned || view.Points.Any(point => point.Value < 0) ? [limit, -limit] : [limit];

    /// <summary>A value of the trend in the shown unit, to the decimals of the ruler or finer.</summary>
    internal string Number(double value) => (Math.Round(value / unit.Factor, Decimals(step)) + 0.0).ToString("F" + Decimals(step).ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);

    /// <summary>The rows, one line each.</summary>
    /// <param name="chosen">The result that is looked at; null where none is.</param>
    internal ImmutableArray<Line> Draw(TrendPoint? chosen)
    {
        foreach (var limit in Limits(view))
        {
            for (var column = LimitColumn; column < width - 6; column += 2)
                cells[Row(limit)][column] = '_';
        }

        foreach (var change in Changes)
            Written(change);
        foreach (var ahead in view.Forecast)
        {
            Put(Column(ahead.At), ahead.Level + ahead.HalfWidth, '.');
            Put(Column(ahead.At), ahead.Level - ahead.HalfWidth, '.');
        }

        foreach (var point in Drawn)
            Bar(point);
        foreach (var point in Drawn)
            cells[Row(point.Value)][columns[(point.Sequence, true)]] = point.Sequence == chosen?.Sequence ? 'O' : point.Alarm ? 'x' : 'o';
        Scale();
        return [.. Head(), .. cells.Select((_, row) => Inked(row, chosen)), new Line(Months(), [new(0, width, Ink.Quiet)])];
    }

    private Line Inked(int row, TrendPoint? chosen)
    {
        var line = new Line(new string(cells[row]).TrimEnd(), []);
        return chosen is not null && Drawn.Contains(chosen) && Row(chosen.Value) == row ? line.With(columns[(chosen.Sequence, true)], 1, Ink.Focus) : line;
    }

    private IEnumerable<Line> Head()
    {
        if (names.Count == 0)
            names.Add(Blank());
        (" " + unit.Symbol).CopyTo(0, names[0], 0, unit.Symbol.Length + 1);
        return names.Select(row => new Line(new string(row).TrimEnd(), [new(0, width, Ink.Quiet)]));
    }

    private char[] Blank() => new string(' ', width).ToCharArray();

    // From the present epoch backwards, as long as the ruler bears it.
    private ImmutableArray<TrendPoint> OnSheet()
    {
        var epoch = view.Points[^1].Epoch;
        var (low, high) = Range([.. view.Points.Where(point => point.Epoch == epoch)]);
        while (epoch > 1)
        {
            var (lower, higher) = Range([.. view.Points.Where(point => point.Epoch >= epoch - 1)]);
            if (higher - lower > MostWiden * (high - low))
                break;
            epoch--;
        }

        return [.. view.Points.Where(point => point.Epoch >= epoch)];
    }

    private (double Low, double High) Range(ImmutableArray<TrendPoint> points)
    {
        var all = points.SelectMany(point => new[] { point.Value - (point.Expanded ?? 0), point.Value + (point.Expanded ?? 0) }).Concat(Limits(view)).ToList();
        return (all.Min(), all.Max());
    }

    // Rows are 1, 2, 2.5 or 5 of a decimal place apart, and every second one has its number.
    private (double Top, double Step) Ruler(int rows)
    {
        var (low, high) = Range(Drawn);
        (low, high) = (low / unit.Factor, high / unit.Factor);
        var least = Math.Max((high - low) / (rows - 1), Math.Max(Math.Abs(high), 1e-9) * 1e-6);
        var decade = Math.Pow(10, Math.Floor(Math.Log10(least)));
        foreach (var times in (ReadOnlySpan<double>)[1, 2, 2.5, 5, 10, 20, 25, 50, 100])
        {
            var row = times * decade;
            var ceiling = Math.Ceiling(high / (2 * row) - 1e-9) * 2 * row;
            var spare = rows - 1 - (int)Math.Ceiling((ceiling - low) / row - 1e-9);
            if (row >= least && spare >= 0)
                return ((ceiling + (spare + 2) / 4 * 2 * row) * unit.Factor, row * unit.Factor);
        }

        return (high * unit.Factor, least * unit.Factor);
    }

    private int Decimals(double of) => Math.Clamp((int)Math.Ceiling(-Math.Log10(of / unit.Factor) - 1e-9), 0, 6);

    private bool Inside(DateTimeOffset at) => at >= from && (at - from).TotalDays <= days;

    private int Column(DateTimeOffset at) => First + (int)Math.Round((at - from).TotalDays / days * (width - RightMargin - First), MidpointRounding.AwayFromZero);

    // What happened on one day stands side by side, in its order: each result is seen, and no line of a change lies over one before it.
    // A new baseline and its first result share a column. In a series too long for its columns days fall together, and the numbers tell.
    private Dictionary<(long Sequence, bool IsResult), int> SideBySide()
    {
        var all = Drawn.Select(point => (point.Sequence, point.At, Event: (TrendEvent?)null)).Concat(Changes.Select(change => (change.Sequence, change.At, Event: (TrendEvent?)change)))
            .OrderBy(one => one.At).ThenBy(one => one.Sequence).ToArray();
        var placed = new int[all.Length];
        for (var i = 0; i < all.Length; i++)
        {
            var gap = i == 0 ? 0 : (all[i - 1].Event, all[i].Event) switch
            {
                ({ BeginsBaseline: true }, null) => 0,
                (null, null) => all[i - 1].At.Date == all[i].At.Date ? ResultGap : 0,
                ({ }, { }) => all[i - 1].At.Date == all[i].At.Date ? 1 : 0,
                _ => 1,
            };
            placed[i] = Math.Max(Column(all[i].At), i == 0 ? 0 : placed[i - 1] + gap);
        }

        // What would leave the sheet moves back, as close as it must.
        for (var (i, most) = (all.Length - 1, width - 2); i >= 0 && placed[i] > most; i--, most--)
            placed[i] = Math.Max(most, First);
        return all.Select((one, i) => (Key: (one.Sequence, one.Event is null), At: placed[i])).ToDictionary(one => one.Key, one => one.At);
    }

    // Counted from zero, which stands on a row: a limit lies as far above it as below.
    private int Row(double value) => Math.Clamp((int)(Math.Round(top / step) - Math.Round(value / step, MidpointRounding.AwayFromZero)), 0, cells.Length - 1);

    private void Put(int column, double value, char mark)
    {
        ref var cell = ref cells[Row(value)][column];
        if (cell is ' ' or '_')
            cell = mark;
    }

    private void Bar(TrendPoint point)
    {
        var column = columns[(point.Sequence, true)];
        for (var row = Row(point.Value + (point.Expanded ?? 0)); row <= Row(point.Value - (point.Expanded ?? 0)); row++)
            cells[row][column] = '|';
        if (point.Level is not { } level)
            return;
        Put(column - 1, level, '-');
        Put(column + 1, level, '-');
    }

    // A name begins at its line, or ends with the sheet; two that would run into each other stand in two rows.
    private void Written(TrendEvent change)
    {
        var column = columns[(change.Sequence, false)];
        foreach (var row in cells)
            row[column] = change.BeginsBaseline ? ':' : '\'';
        var text = Inking.Clean($"{change.Word.Replace('-', ' ')} {change.At.ToString("d MMM", CultureInfo.InvariantCulture)}");
        text = text[..Math.Min(text.Length, width - First)];
        var begin = Math.Min(column, width - 1 - text.Length);
        var free = names.Find(row => row.AsSpan(begin - 1, text.Length + 1).Trim(' ').IsEmpty);
        if (free is null && names.Count < 2)
            names.Add(free = Blank());
        if (free is not null)
            text.CopyTo(0, free, begin, text.Length);
    }

    private void Scale()
    {
        for (var row = 0; row < cells.Length; row += 2)
        {
            Number(top - row * step).PadLeft(label).CopyTo(0, cells[row], 1, label);
        }

        if (view.NextCheck is { } next && Inside(next))
            cells[^1][Column(next)] = '^';
    }

    // Months while there is room for them, else quarters, else years or some of them; January has the number of its year. A short series has its days.
    private string Months()
    {
        var row = Blank();
        var month = (width - RightMargin - First) / days * 30.4375;
        var every = Array.Find(Spacings, months => months * month >= LeastMonthColumns) is var found and > 0 ? found : Spacings[^1];
        var marks = new List<(int Column, string Text)>();
        for (var at = new DateTimeOffset(from.Year, (from.Month - 1) / every * every + 1, 1, 0, 0, 0, from.Offset); at <= from.AddDays(days); at = at.AddMonths(every))
            marks.Add((Column(at) - 1, at.ToString(at.Month == 1 ? "yyyy" : "MMM", CultureInfo.InvariantCulture)));
        marks.RemoveAll(mark => mark.Column < LimitColumn || mark.Column + mark.Text.Length > width);
        if (marks.Count < 2)
            marks = [(First, from.ToString("d MMM yyyy", CultureInfo.InvariantCulture)), (width - RightMargin - 6, from.AddDays(days).ToString("d MMM yyyy", CultureInfo.InvariantCulture))];
        foreach (var (column, text) in marks)
            text.CopyTo(0, row, column, text.Length);
        return new string(row).TrimEnd();
    }
}
