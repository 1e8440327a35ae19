using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using Commission.Workshop.Screens;

namespace Commission.App.Tests.Screens;

/// <summary>What a terminal shows, colours and all, as the rows of a sheet: the exact hues are told back into what they stand for.</summary>
internal static partial class Captured
{
    /// <summary>The rows.</summary>
    /// <param name="screen">The screen with its colours as sequences (SGR of ECMA-48, 24 bits as 38;2 and 48;2).</param>
    /// <param name="look">The look that was shown.</param>
    public static ImmutableArray<Line> Rows(string screen, Look look)
    {
        var shades = Enum.GetValues<Ink>().DistinctBy(ink => Shade(ink, look)).ToDictionary(ink => Shade(ink, look));
        var now = new Cell("", "", false);
        var rows = ImmutableArray.CreateBuilder<Line>();
        foreach (var row in screen.ReplaceLineEndings("\n").TrimEnd('\n').Split('\n'))
            rows.Add(Row(row, ref now, shades));
        return rows.ToImmutable();
    }

    /// <summary>The rows with one time of day for all: what the clock says is not what a picture is of.</summary>
    public static ImmutableArray<Line> Timeless(ImmutableArray<Line> rows) => [.. rows.Select(row => row with { Text = Time().Replace(row.Text, time => time.Length > 5 ? "10:14:07" : "10:14") })];

    private sealed record Cell(string Text, string Ground, bool Bold);

    private static Cell Shade(Ink ink, Look look) => Looks.Hues(ink, look) is var (text, ground) ? new(text, ground, ink == Ink.Strong) : throw new System.Diagnostics.UnreachableException();

    private static Line Row(string row, ref Cell now, Dictionary<Cell, Ink> shades)
    {
        var text = new StringBuilder();
        var stretches = ImmutableArray.CreateBuilder<Stretch>();
        foreach (Match part in Parts().Matches(row))
        {
            if (part.Groups["sgr"] is { Success: true } sgr)
            {
                now = After(now, sgr.Value);
                continue;
            }

            stretches.Add(new(text.Length, part.Length, shades.TryGetValue(now, out var ink) ? ink : throw new InvalidOperationException($"No ink looks like {now} in: {row}")));
            text.Append(part.Value);
        }

        var kept = text.ToString().TrimEnd();
        return new(kept, [.. stretches.Where(stretch => stretch.Start < kept.Length)]);
    }

    private static Cell After(Cell now, string sgr)
    {
        var codes = sgr.Split(';');
        for (var i = 0; i < codes.Length; i++)
        {
            switch (codes[i])
            {
                case "" or "0": now = new("", "", false); break;
                case "1": now = now with { Bold = true }; break;
                case "22": now = now with { Bold = false }; break;
                case "38": (now, i) = (now with { Text = Hex(codes, i) }, i + 4); break;
                case "48": (now, i) = (now with { Ground = Hex(codes, i) }, i + 4); break;
                default: throw new InvalidOperationException($"No sheet is drawn with SGR {sgr}");
            }
        }

        return now;
    }

    private static string Hex(string[] codes, int at) =>
        "#" + string.Concat(codes.Skip(at + 2).Take(3).Select(part => int.Parse(part, CultureInfo.InvariantCulture).ToString("x2", CultureInfo.InvariantCulture)));

    [GeneratedRegex("\x1b\\[(?<sgr>[0-9;]*)m|[^\x1b]+")]
    private static partial Regex Parts();

    [GeneratedRegex(@"\b\d\d:\d\d(:\d\d)?\b")]
    private static partial Regex Time();
}
