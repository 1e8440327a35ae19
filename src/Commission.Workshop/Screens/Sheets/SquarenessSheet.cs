using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Quantities;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>A distance between two marks.</summary>
/// <param name="From">First mark, mm.</param>
/// <param name="To">Second mark, mm.</param>
/// <param name="DistanceMm">What was measured; the mean where it was measured more than once.</param>
public sealed record MarkDistance((double X, double Y) From, (double X, double Y) To, double DistanceMm);

/// <summary>A carpenter's sketch of two diagonals: four marks, their distances, and which way they lean.</summary>
public static class SquarenessSheet
{
    // Leaning to the right: the angle at A is below 90 degrees. Mirrored where it is above.
    private static readonly string[] Right =
    [
        "          D - - - -  {t} - - - - - C",
        "         /   .                    .  /",
        "        /      . {2}      .      /",
        "       /          .     .          /",
        "{l}/             .             /{r}",
        "     /          .      .         /",
        "    /      . {1}      .      /",
        "   /  .                     .  /",
        "  A - - - -  {b} - - - - - B",
    ];

    private static readonly string[] Left =
    [
        "  D - - - -  {t} - - - - - C",
        "   \\  .                     .  \\",
        "    \\      . {2}      .      \\",
        "     \\          .      .         \\",
        "{l} \\             .            \\{r}",
        "       \\          .     .          \\",
        "        \\      . {1}      .      \\",
        "         \\   .                    .  \\",
        "          A - - - -  {b} - - - - - B",
    ];

    private static readonly string[] Upright =
    [
        "      D - - - -  {t} - - - - - C",
        "      |  .                     .  |",
        "      |      . {2}      .      |",
        "      |          .     .          |",
        "{l}|             .             |{r}",
        "      |          .     .          |",
        "      |      . {1}      .      |",
        "      |  .                     .  |",
        "      A - - - -  {b} - - - - - B",
    ];

    /// <summary>The sketch; empty where the distances are not the six of four marks on a rectangle.</summary>
    /// <param name="distances">The distances.</param>
    /// <param name="leansRight">Whether the angle from +X to +Y is below 90 degrees; null where it does not differ from that.</param>
    /// <param name="units">Units of the distances; millimetres where not told.</param>
    public static ImmutableArray<string> Sketch(ImmutableArray<MarkDistance> distances, bool? leansRight, ShownUnits? units = null)
    {
        var length = (units ?? ShownUnits.Millimetres).Length.Factor;
        double[] xs = [.. distances.SelectMany(one => (double[])[one.From.X, one.To.X]).Distinct().Order()];
        double[] ys = [.. distances.SelectMany(one => (double[])[one.From.Y, one.To.Y]).Distinct().Order()];
        if (xs.Length != 2 || ys.Length != 2)
            return [];
        var (a, b, c, d) = ((xs[0], ys[0]), (xs[1], ys[0]), (xs[1], ys[1]), (xs[0], ys[1]));
        string Between((double, double) p, (double, double) q)
        {
            var found = distances.Where(one => (one.From == p && one.To == q) || (one.From == q && one.To == p)).Select(one => one.DistanceMm).ToList();
            return found.Count == 0 ? "......" : (found.Average() / length).ToString(length == 1 ? "F2" : "F3", CultureInfo.InvariantCulture).PadLeft(6);
        }

        // {1} goes up to the right from A, {2} up to the left from B.
        return
        [
            .. (leansRight switch { true => Right, false => Left, _ => Upright }).Select(row => row.Replace("{t}", Between(d, c), StringComparison.Ordinal).Replace("{b}", Between(a, b), StringComparison.Ordinal)
                .Replace("{l}", Between(a, d), StringComparison.Ordinal).Replace("{r}", Between(b, c), StringComparison.Ordinal)
                .Replace("{1}", Between(a, c), StringComparison.Ordinal).Replace("{2}", Between(b, d), StringComparison.Ordinal)),
        ];
    }

    /// <summary>The sketch with words beside it, and words below.</summary>
    public static ImmutableArray<Line> Body(ImmutableArray<string> sketch, ImmutableArray<string> beside, ImmutableArray<string> below, ShownUnits? units = null)
    {
        const int Column = 46;
        return
        [
            new Line($"  {(units ?? ShownUnits.Millimetres).Length.Symbol}, mean of what was measured", [new(0, 40, Ink.Quiet)]),
            .. sketch.Select((row, i) => (Line)(row.PadRight(Column) + (i < beside.Length ? beside[i] : "")).TrimEnd()),
            " ^ origin of the machine   A-B along X, towards +X; ahead, +Y, is up", Line.Blank,
            .. below.SelectMany(text => Wrap.To(text, 78)).Select(text => (Line)(" " + text)),
        ];
    }
}
