using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Quantities;
using Commission.Core.Upkeep;

namespace Commission.Core.Reports;

/// <summary>A trend in plain letters, fit for a terminal of 80 x 24: the chart, then what it says.</summary>
public static class TrendText
{
    private const int Labels = 9;

    /// <summary>The whole page.</summary>
    /// <param name="view">The trend.</param>
    /// <param name="width">Columns.</param>
    /// <param name="rows">Rows of the chart itself.</param>
    /// <param name="units">Units to show; null for millimetres.</param>
    public static ImmutableArray<string> Lines(TrendView view, int width = 79, int rows = 11, ShownUnits? units = null)
    {
        var unit = Shown(view, units);
        return
        [
            Cut($"{view.Machine} / trend / {view.Title}, {unit.Symbol}", width),
            .. Chart(view, width, rows, units),
            "o result, | U, - level, _ limit, . to come, : new baseline, ' tested, ^ look",
            .. Told(view, units).SelectMany(line => Wrapped(line, width)),
        ];
    }

    /// <summary>The chart alone: two rows of names, the plane, and the row of days.</summary>
    public static ImmutableArray<string> Chart(TrendView view, int width, int rows, ShownUnits? units = null)
    {
        var plane = new Plane(view, width, rows, Shown(view, units).Factor);
        plane.Draw();
        return plane.Lines();
    }

    /// <summary>What the trend says, each a sentence.</summary>
    public static IEnumerable<string> Told(TrendView view, ShownUnits? units = null)
    {
        var unit = Shown(view, units);
        var last = view.Points[^1];
        yield return $"Now: {ValueFormat.Line(last.Value, last.Expanded, unit, last.CoverageFactor, why: "the result has none")}, measured {Day(last.At)}; {Count(view.Points.Length)}.";
        yield return view.Changed;
        if (view.Slope is { } slope)
        {
            var (rate, u) = ValueFormat.Pair(slope.PerMonth / unit.Factor, slope.Expanded / unit.Factor);
            yield return string.Create(CultureInfo.InvariantCulture, $"Drift: {rate} +/- {u} {unit.Symbol} a month (k={slope.CoverageFactor:0.00}, {slope.Results} results).");
        }
        else
        {
            yield return $"Drift: none given, {view.WhyNoSlope}.";
        }

        foreach (var remark in view.Remarks)
            yield return remark;
        yield return view.NextCheck is { } at ? $"Look again by {Day(at)}: {view.NextBecause}." : $"Look again: {view.NextBecause}.";
    }

    /// <summary>A day as trends name it.</summary>
    public static string Day(DateTimeOffset at) => at.ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    internal static Unit Shown(TrendView view, ShownUnits? units) => (units ?? ShownUnits.Millimetres).Of(view.Unit);

    private static string Count(int results) => results == 1 ? "1 result counts" : string.Create(CultureInfo.InvariantCulture, $"{results} results count");

    private static string Cut(string text, int width) => text.Length <= width ? text : text[..width];

    private static IEnumerable<string> Wrapped(string text, int width)
    {
        while (text.Length > width)
        {
            var cut = text.LastIndexOf(' ', width - 1);
            cut = cut < width / 2 ? width : cut;
            yield return text[..cut].TrimEnd();
            text = "  " + text[cut..].TrimStart();
        }

        yield return text;
    }

    /// <summary>The plane of the chart.</summary>
    private sealed class Plane
    {
        private readonly TrendView view;
        private readonly int width;
        private readonly char[][] cells;
        private readonly char[][] names;
        private readonly char[] days;
        private readonly double factor;
        private readonly (double Low, double High) range;
        private readonly (DateTimeOffset From, double Days) span;

        internal Plane(TrendView view, int width, int rows, double factor)
        {
            (this.view, this.width, this.factor) = (view, width, factor);
            cells = [.. Enumerable.Range(0, rows).Select(_ => Blank())];
            (names, days) = ([Blank(), Blank()], Blank());
            range = Range();
            var to = view.NextCheck is { } next && next > view.Points[^1].At ? next : view.Points[^1].At;
            span = (view.Points[0].At, Math.Max((to - view.Points[0].At).TotalDays, 1));
        }

        internal void Draw()
        {
            foreach (var limit in Limits())
                Across(limit, '_');
            foreach (var change in view.Events.Where(change => Inside(change.At)))
                Event(change);
            foreach (var ahead in view.Forecast)
            {
                Put(ahead.At, ahead.Level + ahead.HalfWidth, '.');
                Put(ahead.At, ahead.Level - ahead.HalfWidth, '.');
            }

            foreach (var point in view.Points)
                Bar(point);
            foreach (var point in view.Points.Where(point => point.Level is not null))
                Put(point.At, point.Level!.Value, '-', onlyFree: true);
            foreach (var point in view.Points)
                Put(point.At, point.Value, point.Alarm ? 'x' : 'o');
            Scale();
        }

        internal ImmutableArray<string> Lines() => [.. names.Select(row => new string(row).TrimEnd()).Where((row, at) => at > 0 || row.Length > 0), .. cells.Select(row => new string(row).TrimEnd()), new string(days).TrimEnd()];

        private char[] Blank() => new string(' ', width).ToCharArray();

        // What is unsigned has one limit; else the band lies about zero.
        private IEnumerable<double> Limits() => view.Limit is not { } limit ? []
            : view.Points.Any(point => point.Value < 0) ? [limit, -limit]
            : [limit];

        private (double Low, double High) Range()
        {
            var all = view.Points.SelectMany(point => new[] { point.Value - (point.Expanded ?? 0), point.Value + (point.Expanded ?? 0) })
                .Concat(view.Forecast.SelectMany(ahead => new[] { ahead.Level - ahead.HalfWidth, ahead.Level + ahead.HalfWidth }))
                .Concat(Limits()).ToList();
            var (low, high) = (all.Min(), all.Max());
            var room = Math.Max((high - low) * 0.04, Math.Max(Math.Abs(high), 1e-12) * 1e-6);
            return (low - room, high + room);
        }

        private bool Inside(DateTimeOffset at) => at >= span.From && (at - span.From).TotalDays <= span.Days;

        private int Column(DateTimeOffset at) => Labels + (int)Math.Round((at - span.From).TotalDays / span.Days * (width - Labels - 2), MidpointRounding.AwayFromZero);

        private int Row(double value) => Math.Clamp((int)Math.Round((range.High - value) / (range.High - range.Low) * (cells.Length - 1), MidpointRounding.AwayFromZero), 0, cells.Length - 1);

        private void Put(DateTimeOffset at, double value, char mark, bool onlyFree = false)
        {
            ref var cell = ref cells[Row(value)][Math.Clamp(Column(at), Labels, width - 1)];
            if (!onlyFree || cell is ' ' or '_' or '.')
                cell = mark;
        }

        private void Across(double value, char mark)
        {
            var row = cells[Row(value)];
            for (var column = Labels; column < width; column += 2)
                row[column] = mark;
        }

        private void Bar(TrendPoint point)
        {
            if (point.Expanded is not { } half)
                return;
            for (var row = Row(point.Value + half); row <= Row(point.Value - half); row++)
                cells[row][Column(point.At)] = '|';
        }

        // A name begins at its line where there is room to the right; two that would run into each other stand in two rows.
        private void Event(TrendEvent change)
        {
            var column = Column(change.At);
            foreach (var row in cells)
                row[column] = change.BeginsBaseline ? ':' : '\'';
            var text = Words.Clean($"{change.Title} {change.At.ToString("d MMM", CultureInfo.InvariantCulture)}");
            var begin = Math.Max(0, Math.Min(column, width - text.Length));
            text = text[..Math.Min(text.Length, width - begin)];
            var free = Array.FindLast(names, row => row.AsSpan(begin, text.Length).Trim(' ').IsEmpty && (begin == 0 || row[begin - 1] == ' '));
            if (free is not null)
                text.CopyTo(0, free, begin, text.Length);
        }

        private void Scale()
        {
            foreach (var row in (ReadOnlySpan<int>)[0, cells.Length / 2, cells.Length - 1])
                Label(row, range.High - (range.High - range.Low) * row / (cells.Length - 1));
            foreach (var limit in Limits())
                Label(Row(limit), limit);
            Write(days, Labels, Day(span.From));
            var last = Day(span.From.AddDays(span.Days));
            Write(days, width - last.Length, last);
            if (view.NextCheck is { } next && Inside(next))
                cells[^1][Math.Min(Column(next), width - 1)] = '^';
        }

        private void Label(int row, double value)
        {
            var step = (range.High - range.Low) / factor / cells.Length;
            var decimals = Math.Clamp((int)Math.Ceiling(-Math.Log10(step)), 0, 6);
            var text = (value / factor).ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture).PadLeft(Labels - 1);
            Write(cells[row], 0, text[..Math.Min(text.Length, Labels - 1)]);
        }

        private static void Write(char[] row, int at, string text) => text.CopyTo(0, row, Math.Max(0, at), Math.Min(text.Length, row.Length - Math.Max(0, at)));
    }
}
