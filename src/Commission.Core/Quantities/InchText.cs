using System.Globalization;
using System.Text.RegularExpressions;

namespace Commission.Core.Quantities;

/// <summary>Sentences with millimetres as owners of inch machines read them: numbers of millimetres become inches, and what was to be typed in mm is typed in inches.</summary>
/// <remarks>Slopes keep their number: mm per m are thousandths of an inch per inch, and a sentence says so. Ratios (steps per mm) stay as the controller has them.</remarks>
public static partial class InchText
{
    // A last digit of an inch is worth about 25 of a millimetre's: two decimals more say as much.
    private const int MoreDecimals = 2;

    // A tenth of a micrometre is 0.000004 in: nothing that is read here says more.
    private const int MostDecimals = 6;
    private const int CommandedDecimals = 4;

    /// <summary>The text in the units wished for.</summary>
    /// <param name="text">A text in millimetres.</param>
    /// <param name="inches">Whether inches are shown.</param>
    public static string In(string text, bool inches) => inches ? Of(text) : text;

    /// <summary>The text with its lengths and speeds in inches.</summary>
    public static string Of(string text) => Told(text, 0, MostDecimals);

    /// <summary>The same for places that are commanded: to 0.0001 in.</summary>
    public static string Commanded(string text) => Told(text, CommandedDecimals, CommandedDecimals);

    private static string Told(string text, int least, int most)
    {
        // Numbers that stand side by side have the decimals of the finest of them.
        var lengths = Lengths().Replace(text, match => Number().Replace(match.Groups["numbers"].Value, number => Inches(number.Value, Decimals(match.Groups["numbers"].Value, least, most))) + match.Groups["gap"].Value + "in" + match.Groups["rate"].Value);
        lengths = Micrometres().Replace(lengths, match => (double.Parse(match.Groups["number"].Value, CultureInfo.InvariantCulture) / Inch.Mm).ToString("F2", CultureInfo.InvariantCulture) + " thousandths of an inch");
        lengths = lengths.Replace(" mm on each metre", " thousandths of an inch on each inch", StringComparison.Ordinal);
        return Words().Replace(lengths, match => match.Groups["before"].Value + (match.Groups["rate"].Success ? "in/min" : "inches"));
    }

    private static int Decimals(string numbers, int least, int most) => Math.Clamp(MoreDecimals + Number().Matches(numbers).Max(number => number.Value.IndexOf('.', StringComparison.Ordinal) is var point and >= 0 ? number.Length - point - 1 : 0), least, most);

    private static string Inches(string typed, int decimals) =>
        (double.Parse(typed, CultureInfo.InvariantCulture) / Inch.Mm).ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);

    [GeneratedRegex(@"(?<![\w.])(?<numbers>[+-]?\d+(\.\d+)?((, | to | or | and | by | x | \+/- )[+-]?\d+(\.\d+)?)*)(?<gap>[ -])mm(?<rate>/min)?(?![\w/]| per m\b| on each metre)")]
    private static partial Regex Lengths();

    [GeneratedRegex(@"(?<number>\d+(\.\d+)?) um\b(?!/)")]
    private static partial Regex Micrometres();

    [GeneratedRegex(@"\d+(\.\d+)?")]
    private static partial Regex Number();

    [GeneratedRegex(@"(?<before>\b([Ii]n|[Tt]ype|[Mm]any|each) )mm(?<rate>/min)?\b(?!/| per m\b)")]
    private static partial Regex Words();
}
