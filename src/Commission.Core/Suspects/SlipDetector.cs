using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Quantities;
using Commission.Core.Readings;

namespace Commission.Core.Suspects;

/// <summary>What a reading may have been meant to be.</summary>
/// <param name="Value">The value, mm.</param>
/// <param name="Slip">The slip that explains it, a clause.</param>
public sealed record Meant(double Value, string Slip);

/// <summary>A reading that lies off the others, with what it may have been meant to be.</summary>
/// <param name="Off">How far it lies off, mm.</param>
/// <param name="Candidates">Explanations, the nearest first; empty where no known slip explains it.</param>
public sealed record SlipQuestion(double Off, ImmutableArray<Meant> Candidates)
{
    /// <summary>The question to ask; measuring again always comes first.</summary>
    public string Words => Candidates.IsEmpty
        ? "Measure it again."
        : string.Create(CultureInfo.InvariantCulture, $"Measure it again, or did you mean {Candidates[0].Value:0.00##} ({Candidates[0].Slip})?");
}

/// <summary>Looks for slips of the hand and the keyboard in single readings. It offers, and never applies.</summary>
public static class SlipDetector
{
    private const double Suspicious = 5;
    private const double Explained = 3;
    private static readonly double[] Shifts = [0.1, 0.5, 1, 10, Inch.Mm, 100];

    /// <summary>Looks at one reading.</summary>
    /// <param name="point">The reading.</param>
    /// <param name="line">A robust line through the others.</param>
    /// <param name="scatter">Standard deviation of one reading, mm.</param>
    /// <param name="typed">What was typed, for swapped digits; null where it is not known.</param>
    /// <returns>A question; null where nothing is odd about it.</returns>
    public static SlipQuestion? LookAt(AxisPoint point, RobustLine line, double scatter, string? typed = null) =>
        LookAt(point.Measured, line.At(point.Commanded, point.Direction), scatter, typed);

    /// <summary>Looks at one reading whose expected value is known.</summary>
    public static SlipQuestion? LookAt(double reading, double expected, double scatter, string? typed = null)
    {
        var off = reading - expected;
        if (!(scatter > 0) || Math.Abs(off) <= Suspicious * scatter)
            return null;
        return new SlipQuestion(off, [.. Candidates(reading, typed)
            .Where(c => Math.Abs(c.Value - expected) <= Explained * scatter)
            .OrderBy(c => Math.Abs(c.Value - expected))
            .DistinctBy(c => Math.Round(c.Value, 6))]);
    }

    /// <summary>Looks at every reading of a set against the robust line through it.</summary>
    /// <param name="readings">Readings, with a column <c>direction</c> perhaps.</param>
    /// <param name="commanded">Column of the commanded positions.</param>
    /// <param name="measured">Column of the readings.</param>
    /// <param name="resolution">Last digit of the instrument, mm; 0 where not known.</param>
    /// <param name="study">Standard deviation of the operator's study, mm; 0 without one.</param>
    public static IEnumerable<Doubt> InSet(ReadingTable readings, string commanded, string measured, double resolution = 0, double study = 0)
    {
        var rows = readings.Used.ToArray();
        AxisPoint[] points = [.. rows.Select(row => new AxisPoint(row[commanded], row[measured], row.Sign()))];
        if (RobustLine.Of(points, resolution, study) is not { } line)
            yield break;
        for (var i = 0; i < rows.Length; i++)
        {
            if (LookAt(points[i], line, line.Scatter, rows[i].Typed.GetValueOrDefault(measured)) is { } question)
                yield return new Doubt(rows[i].Number, string.Create(CultureInfo.InvariantCulture, $"It lies {question.Off:+0.000;-0.000} mm off the line through the others."), question.Words);
        }
    }

    private static IEnumerable<Meant> Candidates(double m, string? typed)
    {
        foreach (var swap in Swaps(typed ?? m.ToString("0.00", CultureInfo.InvariantCulture)))
            yield return new Meant(swap, "two digits swapped");
        foreach (var shift in Shifts)
        {
            var words = string.Create(CultureInfo.InvariantCulture, $"off by {shift} mm");
            yield return new Meant(m + shift, words);
            yield return new Meant(m - shift, words);
        }
        yield return new Meant(m * 10, "decimal sign one place off");
        yield return new Meant(m / 10, "decimal sign one place off");
        yield return new Meant(m * Inch.Mm, "read in inches");
        yield return new Meant(m / Inch.Mm, "read in inches");
        yield return new Meant(-m, "sign left out");
    }

    /// <summary>Every pair of neighbouring digits exchanged, across the decimal sign too.</summary>
    private static IEnumerable<double> Swaps(string typed)
    {
        var text = typed.Replace(',', '.').Replace('\u2212', '-').Trim();
        var digits = Enumerable.Range(0, text.Length).Where(i => char.IsAsciiDigit(text[i])).ToArray();
        foreach (var (first, second) in digits.Zip(digits.Skip(1)))
        {
            var letters = text.ToCharArray();
            (letters[first], letters[second]) = (letters[second], letters[first]);
            if (letters[first] != letters[second] && double.TryParse(letters, NumberStyles.Float, CultureInfo.InvariantCulture, out var value))
                yield return value;
        }
    }
}
