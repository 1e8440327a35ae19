using System.Collections.Immutable;
using System.Globalization;

namespace Commission.Core.Reports;

/// <summary>Round numbers along an axis, stepped in decimal so that 0.1 + 0.2 is written 0.3.</summary>
/// <param name="Low">The lower end of the axis.</param>
/// <param name="High">The upper end.</param>
/// <param name="Marks">The marks with their texts.</param>
public sealed record Ticks(double Low, double High, ImmutableArray<(double At, string Text)> Marks)
{
    /// <summary>An axis that holds a range, with about so many marks.</summary>
    /// <param name="low">Least value.</param>
    /// <param name="high">Greatest value.</param>
    /// <param name="about">Marks wanted.</param>
    public static Ticks Over(double low, double high, int about)
    {
        if (!(high > low))
        {
            var room = Math.Max(Math.Abs(low) * 0.1, 1e-6);
            (low, high) = (low - room, low + room);
        }

        var exponent = (int)Math.Floor(Math.Log10((high - low) / about));
        var factor = new[] { 1, 2, 5, 10 }.First(f => (high - low) / (f * Math.Pow(10, exponent)) <= about);
        var step = factor * Math.Pow(10, exponent);
        var first = (long)Math.Floor(low / step);
        var last = (long)Math.Ceiling(high / step);
        var decimals = Math.Max(0, factor == 10 ? -exponent - 1 : -exponent);
        var marks = ImmutableArray.CreateBuilder<(double, string)>();
        for (var n = first; n <= last; n++)
            marks.Add((At(n, factor, exponent), At(n, factor, exponent).ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture)));
        return new Ticks(At(first, factor, exponent), At(last, factor, exponent), marks.ToImmutable());
    }

    private static double At(long n, int factor, int exponent) =>
        exponent >= 0 ? n * factor * Math.Pow(10, exponent) : n * factor / Math.Pow(10, -exponent);
}
