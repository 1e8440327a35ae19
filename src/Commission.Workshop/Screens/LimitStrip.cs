using System.Collections.Immutable;
using Commission.Core.Characteristics;

namespace Commission.Workshop.Screens;

/// <summary>What the bar of a strip is made of: the state of the result.</summary>
public enum BarStuff
{
    /// <summary>Never measured: no bar.</summary>
    Never,

    /// <summary>Counts.</summary>
    Fresh,

    /// <summary>Counts, its date has come.</summary>
    Due,

    /// <summary>A change broke it; its verdict is withheld.</summary>
    Stale,

    /// <summary>A crash or bad closure; its verdict is withheld.</summary>
    Suspect,

    /// <summary>It was taken back: the finding counts for nothing.</summary>
    Withdrawn,
}

/// <summary>A value between its limits.</summary>
/// <param name="Limit">The limit, positive, in the unit of the value.</param>
/// <param name="TwoSided">Whether the value has a sign and the limit holds on both sides of zero.</param>
/// <param name="Value">The value; null where there is none.</param>
/// <param name="Guard">Half length of the interval that the verdict uses, g = t(0.95) u.</param>
/// <param name="Verdict">The verdict, which the picture never contradicts.</param>
/// <param name="Stuff">What the bar is made of.</param>
public sealed record Gauge(double Limit, bool TwoSided, double? Value, double Guard, Verdict Verdict, BarStuff Stuff);

/// <summary>The limit strip: where the bar lies against the walls is the verdict, what it is made of is the state.</summary>
public static class LimitStrip
{
    /// <summary>Cells of a strip in tables, in wide tables, and on a finding.</summary>
    public const int Narrow = 15, Wide = 29, Broad = 67;

    /// <summary>The strip as text.</summary>
    /// <param name="gauge">The value and its limits.</param>
    /// <param name="cells">Number of cells.</param>
    public static string Draw(Gauge gauge, int cells = Narrow) => Draw(gauge, cells, Rule.For(gauge, cells));

    /// <summary>The strip of one finding: a bar that would lie off the strip is drawn where it is, with the walls nearer together and zero marked between them.</summary>
    /// <param name="gauge">The value and its limits.</param>
    /// <param name="cells">Number of cells.</param>
    public static string Scaled(Gauge gauge, int cells = Broad)
    {
        if (gauge is not { Verdict: Verdict.Outside, Value: { } value } || gauge.Stuff == BarStuff.Never || Rule.For(gauge, cells) is var usual && Ends(gauge, usual, cells, value) is var ends && ends.Low >= 0 && ends.High < cells)
            return Draw(gauge, cells);
        var (zero, room) = gauge.TwoSided ? (cells / 2, cells / 2) : (0, cells - 1);
        var limit = (int)Math.Floor(room * gauge.Limit / (Math.Abs(value) + gauge.Guard));
        if (limit < LeastLimit)
            return Draw(gauge, cells);
        var strip = Draw(gauge, cells, new Rule(zero - (gauge.TwoSided ? limit : 0), zero + limit, zero, limit, gauge.Limit)).ToCharArray();
        if (gauge.TwoSided)
            strip[zero] = ':';
        return new string(strip);
    }

    // Walls nearer together than this leave no room for the numbers below them.
    private const int LeastLimit = 3;

    private static string Draw(Gauge gauge, int cells, Rule rule)
    {
        var strip = new string(' ', cells).ToCharArray();
        if (gauge.Value is { } value && gauge.Stuff != BarStuff.Never)
        {
            Bar(strip, gauge, rule, value);
        }

        strip[rule.Right] = '|';
        strip[rule.Left] = gauge.TwoSided ? '|' : '[';
        return new string(strip);
    }

    /// <summary>The numbers that stand below a strip: zero and the limits under the walls, the value under its mark where it does not run into them.</summary>
    /// <param name="strip">The strip as drawn.</param>
    /// <param name="limit">The limit without its sign, as shown.</param>
    /// <param name="value">The value as shown; null where it is not to stand there.</param>
    public static string Numbers(string strip, string limit, string? value)
    {
        var row = new string(' ', strip.Length + limit.Length).ToCharArray();
        var (left, right) = (strip.IndexOf('|', StringComparison.Ordinal), strip.LastIndexOf('|'));
        if (left != right)
        {
            Under(row, left, "-" + limit);
            Under(row, (left + right) / 2, "0");
            Under(row, right, "+" + limit);
        }
        else
        {
            Under(row, 0, "0");
            Under(row, right, limit);
        }

        if (value is not null && strip.IndexOf('o', StringComparison.Ordinal) is var mark and >= 0)
            Under(row, mark, value);
        return new string(row).TrimEnd();
    }

    // A number begins no further left than the strip, and gives way to those that stand.
    private static void Under(char[] row, int cell, string text)
    {
        var at = Math.Clamp(cell - (text.Length / 2), 0, Math.Max(0, row.Length - text.Length));
        var (from, to) = (Math.Max(0, at - 1), Math.Min(row.Length, at + text.Length + 1));
        if (row.AsSpan(from, to - from).Trim(' ').IsEmpty)
            text.CopyTo(0, row, at, text.Length);
    }

    private static void Bar(char[] strip, Gauge gauge, Rule rule, double value)
    {
        var (low, at, high) = Ends(gauge, rule, strip.Length, value);
        if (gauge.Verdict == Verdict.Outside && (low < 0 || high >= strip.Length))
        {
            var start = value > 0 ? rule.Right + 1 : rule.Left - 2;
            (strip[start], strip[start + 1]) = value > 0 ? (End(gauge.Stuff, '>'), '>') : ('<', End(gauge.Stuff, '<'));
            return;
        }

        for (var i = Math.Max(0, low); i <= Math.Min(strip.Length - 1, high); i++)
        {
            strip[i] = Filling(gauge.Stuff);
        }

        // A bar without a cell between its ends shows by them what it is made of.
        var bare = high - low <= 2;
        Put(strip, low, bare ? End(gauge.Stuff, '<') : '<');
        Put(strip, high, bare ? End(gauge.Stuff, '>') : '>');
        Put(strip, Math.Clamp(at, 0, strip.Length - 1), 'o');
    }

    private static char End(BarStuff stuff, char fresh) => stuff == BarStuff.Fresh ? fresh : Filling(stuff);

    private static void Put(char[] strip, int at, char mark)
    {
        if (at >= 0 && at < strip.Length)
        {
            strip[at] = mark;
        }
    }

    // Ends are rounded each for itself, then moved so that the cells tell what the verdict tells.
    private static (int Low, int At, int High) Ends(Gauge gauge, Rule rule, int cells, double value)
    {
        var low = rule.Cell(value - gauge.Guard);
        var at = rule.Cell(value);
        var high = rule.Cell(value + gauge.Guard);
        switch (gauge.Verdict)
        {
            case Verdict.Within:
                high = Math.Min(high, rule.Right - 1);
                low = gauge.TwoSided ? Math.Max(low, rule.Left + 1) : low;
                break;
            case Verdict.Undecided when value >= 0:
                high = Math.Max(high, rule.Right + 1);
                low = Math.Min(low, rule.Right - 1);
                break;
            case Verdict.Undecided:
                low = Math.Min(low, rule.Left - 1);
                high = Math.Max(high, rule.Left + 1);
                break;
            case Verdict.Outside when value >= 0:
                low = Math.Max(low, rule.Right + 1);
                break;
            case Verdict.Outside:
                high = Math.Min(high, rule.Left - 1);
                break;
        }

        low = gauge.TwoSided ? low : Math.Max(low, 1);
        return Ordered(low, at, high, gauge.Verdict == Verdict.Undecided ? cells : int.MaxValue, rule, gauge.TwoSided);
    }

    private static (int Low, int At, int High) Ordered(int low, int at, int high, int cells, Rule rule, bool twoSided)
    {
        if (cells != int.MaxValue)
        {
            high = Math.Min(high, cells - 1);
            low = twoSided ? Math.Max(low, 0) : low;
        }

        // The value never hides an end, nor a wall.
        at = Math.Max(at, low + 1);
        if (high <= at && high + 1 != rule.Right)
        {
            high = at + 1;
        }

        at = at == rule.Right ? at - 1 : at == rule.Left ? at + 1 : at;
        // Beside a wall the bar is one cell longer rather than its value lost in the wall; it goes through that wall as before.
        if (cells != int.MaxValue && at >= high && at == rule.Left + 1)
            high = at + 1;
        if (cells != int.MaxValue && at <= low && at == rule.Right - 1)
            low = at - 1;
        return (low, Math.Min(at, Math.Max(high - 1, low)), high);
    }

    private static char Filling(BarStuff stuff) => stuff switch
    {
        BarStuff.Due => '-',
        BarStuff.Stale or BarStuff.Withdrawn => 'x',
        BarStuff.Suspect => '!',
        _ => '=',
    };

    /// <summary>Cells of the walls and of zero, and cells for one limit.</summary>
    private readonly record struct Rule(int Left, int Right, int Zero, double PerLimit, double Limit)
    {
        public static Rule For(Gauge gauge, int cells)
        {
            var behind = cells switch { <= Narrow => 2, <= Wide => 4, _ => 9 };
            if (gauge.TwoSided)
            {
                var middle = cells / 2;
                return new(behind, cells - 1 - behind, middle, middle - behind, gauge.Limit);
            }

            var wall = cells - 1 - (behind == 2 ? 3 : behind - 1);
            return new(0, wall, 0, wall, gauge.Limit);
        }

        public int Cell(double value) =>
            (int)Math.Clamp(Math.Round(Zero + (value / Limit * PerLimit), MidpointRounding.AwayFromZero), -10_000, 10_000);
    }
}
