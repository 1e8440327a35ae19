using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Quantities;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>What the sheet of a spindle sweep shows.</summary>
public sealed record TramView
{
    /// <summary>Angle (0 = +X, counter-clockwise, deg) and reading, mm, larger where the surface is nearer.</summary>
    public required ImmutableArray<(double AngleDeg, double ReadingMm)> Points { get; init; }

    /// <summary>Slopes towards +X and +Y as swept, rad; null where they are not known apart.</summary>
    public (double X, double Y)? Sweep { get; init; }

    /// <summary>The spindle's own slopes towards +X and +Y, rad.</summary>
    public required (double X, double Y) Spindle { get; init; }

    /// <summary>Uncertainty of a slope with its factor, in words; null where there is none.</summary>
    public string? SlopeUncertainty { get; init; }

    /// <summary>The tilt over the circle, in words.</summary>
    public required string Over { get; init; }

    /// <summary>The limit, in words.</summary>
    public required string Limit { get; init; }

    /// <summary>The verdict in its full form.</summary>
    public string Verdict { get; init; } = "";

    /// <summary>The strip; empty where there is no limit.</summary>
    public string Strip { get; init; } = "";

    /// <summary>Numbers below the strip.</summary>
    public string Scale { get; init; } = "";

    /// <summary>What is to be done, in capitals and a few words.</summary>
    public required string Disposition { get; init; }

    /// <summary>Units of the numbers at the dial.</summary>
    public ShownUnits Units { get; init; } = ShownUnits.Millimetres;

    /// <summary>Words below the drawing.</summary>
    public ImmutableArray<string> Words { get; init; } = [];
}

/// <summary>The dial as one sees it from above, numbers where the arm stood.</summary>
public static class TramSheet
{
    private const int Text = 38;

    private static readonly string[] Dial =
    [
        "          back 90",
        "",
        "         .------.",
        "      .'     :     '.",
        "     /       :       \\",
        "    |- - - - + - - - -|",
        "180  \\       :       /   right",
        "      '.     :      .'",
        "         '------'",
        "",
        "          front 270",
    ];

    // Where the number of each eighth stands (row, last column), and where the lean is marked.
    private static readonly (int Row, int End)[] Numbers = [(5, 26), (2, 22), (1, 14), (2, 6), (5, 3), (8, 6), (9, 14), (8, 22)];
    private static readonly (int Row, int Column)[][] Leans =
    [
        [(5, 19), (5, 21)], [(3, 17), (4, 15)], [(2, 13), (3, 13)], [(3, 9), (4, 11)], [(5, 5), (5, 7)], [(7, 9), (6, 11)], [(7, 13), (8, 13)], [(7, 17), (6, 15)],
    ];

    /// <summary>The drawing with its numbers and words beside it.</summary>
    public static ImmutableArray<Line> Body(TramView view)
    {
        var rows = Dial.Select(row => row.PadRight(Text - 1).ToCharArray()).ToArray();
        // Counted from the point nearest to the right, as a dial is that was set to zero there.
        var zero = view.Points.MinBy(point => Turn(point.AngleDeg)).ReadingMm;
        foreach (var eighth in view.Points.GroupBy(point => (int)Math.Round(Math.IEEERemainder(point.AngleDeg, 360) / 45 + 8, MidpointRounding.AwayFromZero) % 8))
        {
            var small = Math.Round((eighth.Average(point => point.ReadingMm) - zero) * view.Units.SmallDigit.PerMm);
            var text = small == 0 ? "0" : small.ToString("+0;-0", CultureInfo.InvariantCulture);
            text.CopyTo(0, rows[Numbers[eighth.Key].Row], Math.Max(0, Numbers[eighth.Key].End - text.Length), text.Length);
        }

        var lean = (int)Math.Round((Math.Atan2(view.Spindle.Y, view.Spindle.X) * 180 / Math.PI / 45) + 8, MidpointRounding.AwayFromZero) % 8;
        foreach (var (row, column) in Leans[lean])
            rows[row][column] = '#';
        string[] beside = [.. Beside(view)];
        return
        [
            .. rows.Select((row, i) => ((Line)(new string(row) + " " + (i < beside.Length ? beside[i] : "")).TrimEnd()).With("#", Ink.Strong)),
            (Line)($" {view.Units.SmallDigit.Words}, + = dial pushed in".PadRight(Text) + view.Disposition), Line.Blank,
            .. view.Words.SelectMany(text => Wrap.To(text, 78)).Select(text => (Line)(" " + text)),
        ];
    }

    private static IEnumerable<string> Beside(TramView view)
    {
        yield return view.Sweep is { } sweep ? "sweep      " + Slopes(sweep) : "";
        yield return view.Sweep is { } swept ? "board      " + Slopes((swept.X - view.Spindle.X, swept.Y - view.Spindle.Y)) : "";
        yield return "spindle    " + Slopes(view.Spindle);
        yield return view.SlopeUncertainty is { } u ? "           " + u : "";
        yield return "";
        yield return view.Over;
        yield return view.Limit.PadRight(23) + view.Verdict;
        yield return "";
        yield return view.Strip;
        yield return view.Scale;
    }

    private static string Slopes((double X, double Y) slope) => string.Create(
        CultureInfo.InvariantCulture, $"X {slope.X * 1000:+0.00;-0.00}   Y {slope.Y * 1000:+0.00;-0.00}   mrad");

    private static double Turn(double angleDeg) => Math.Abs(Math.IEEERemainder(angleDeg, 360));
}
