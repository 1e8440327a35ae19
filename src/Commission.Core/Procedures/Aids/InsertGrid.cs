using System.Collections.Immutable;
using System.Globalization;

namespace Commission.Core.Procedures.Aids;

/// <summary>A rectangle without holes, mm, in the machine's own coordinates.</summary>
/// <param name="XFrom">Left.</param>
/// <param name="YFrom">Near.</param>
/// <param name="XTo">Right.</param>
/// <param name="YTo">Far.</param>
public readonly record struct KeepOut(double XFrom, double YFrom, double XTo, double YTo)
{
    /// <summary>Whether a place lies inside, or nearer to it than a distance.</summary>
    public bool Touches(double xMm, double yMm, double distanceMm) =>
        xMm > XFrom - distanceMm && xMm < XTo + distanceMm && yMm > YFrom - distanceMm && yMm < YTo + distanceMm;

    /// <summary>Rectangles as they are kept, in mm.</summary>
    public static string Text(ImmutableArray<KeepOut> rectangles) => string.Join("; ", rectangles.Select(one =>
        string.Join(' ', new[] { one.XFrom, one.YFrom, one.XTo, one.YTo }.Select(Scope.Shown))));

    /// <summary>Rectangles as a person writes them: <c>100 0 140 580; 200 300 260 360</c>. Empty for none.</summary>
    /// <param name="text">What was typed.</param>
    /// <param name="unitMm">Millimetres of the unit it was typed in.</param>
    public static Outcome<ImmutableArray<KeepOut>> Parse(string text, double unitMm = 1)
    {
        var found = ImmutableArray.CreateBuilder<KeepOut>();
        foreach (var part in text.Split(';', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            var numbers = part.Split([' ', ',', '\t'], StringSplitOptions.RemoveEmptyEntries)
                .Select(word => double.TryParse(word, NumberStyles.Float, CultureInfo.InvariantCulture, out var value) ? value : double.NaN).ToArray();
            if (numbers.Length != 4 || numbers.Any(number => !double.IsFinite(number)) || numbers[0] >= numbers[2] || numbers[1] >= numbers[3])
                return new Problem($"'{PlainText.Of(part)}' is no rectangle", unitMm == 1 ? "Write four numbers in mm, such as 100 0 140 580: X from, Y from, X to, Y to; part several by semicolons" : "Write four numbers in inches, such as 4 0 5.5 22.8: X from, Y from, X to, Y to; part several by semicolons");
            found.Add(new KeepOut(numbers[0] * unitMm, numbers[1] * unitMm, numbers[2] * unitMm, numbers[3] * unitMm));
        }

        return found.ToImmutable();
    }
}

/// <summary>A grid of threaded inserts: as many as the cutter can reach, none in a place kept out.</summary>
/// <remarks>Usable area: travel less cutter radius and 5 mm on each side (our choice). Distance to what is kept out: two diameters of the hole (common practice, no source).</remarks>
public sealed record InsertGrid
{
    private const double EdgeMm = 5;

    private InsertGrid(double widthMm, double depthMm, double pitchMm, ImmutableArray<(double X, double Y)> places, int leftOut) =>
        (UsableWidthMm, UsableDepthMm, PitchMm, Places, LeftOut) = (widthMm, depthMm, pitchMm, places, leftOut);

    /// <summary>Width of the area that can be used, mm.</summary>
    public double UsableWidthMm { get; }

    /// <summary>Depth of it, mm.</summary>
    public double UsableDepthMm { get; }

    /// <summary>Distance between neighbours, mm.</summary>
    public double PitchMm { get; }

    /// <summary>The places in the order they are drilled, row by row, back and forth.</summary>
    public ImmutableArray<(double X, double Y)> Places { get; }

    /// <summary>Places left out for what lies below.</summary>
    public int LeftOut { get; }

    /// <summary>Plans the grid.</summary>
    /// <param name="travelXMm">Travel of X, mm.</param>
    /// <param name="travelYMm">Travel of Y, mm.</param>
    /// <param name="pitchMm">Distance between neighbours, mm.</param>
    /// <param name="cutterMm">Diameter of the largest cutter, mm.</param>
    /// <param name="holeMm">Diameter of a hole, mm.</param>
    /// <param name="keepOut">Rectangles without holes.</param>
    /// <returns>The grid, or the problem that nothing is left of the area.</returns>
    public static Outcome<InsertGrid> Of(double travelXMm, double travelYMm, double pitchMm, double cutterMm, double holeMm, ImmutableArray<KeepOut> keepOut)
    {
        var margin = (cutterMm / 2) + EdgeMm;
        var (width, depth) = (travelXMm - (2 * margin), travelYMm - (2 * margin));
        if (width < 0 || depth < 0) return new Problem("with this cutter nothing is left of the area", "Take a smaller cutter");
        var (columns, rows) = ((int)Math.Floor((width / pitchMm) + 1e-9) + 1, (int)Math.Floor((depth / pitchMm) + 1e-9) + 1);
        var (left, near) = (margin + ((width - ((columns - 1) * pitchMm)) / 2), margin + ((depth - ((rows - 1) * pitchMm)) / 2));
        var all = from row in Enumerable.Range(0, rows)
                  from step in Enumerable.Range(0, columns)
                  let column = row % 2 == 0 ? step : columns - 1 - step
                  select (X: left + (column * pitchMm), Y: near + (row * pitchMm));
        ImmutableArray<(double X, double Y)> kept = [.. all.Where(place => !keepOut.Any(rectangle => rectangle.Touches(place.X, place.Y, 2 * holeMm)))];
        return new InsertGrid(width, depth, pitchMm, kept, (columns * rows) - kept.Length);
    }
}
