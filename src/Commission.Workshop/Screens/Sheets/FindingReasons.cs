using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.Quantities;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>The reasons on a finding: what leaving and changing would cost, what must hold for a change, what U comes from.</summary>
internal static class FindingReasons
{
    private const int Width = 69, ComparedColumn = 40;
    private const double LeastShare = 0.005;

    /// <summary>A source of uncertainty, short.</summary>
    public static string Source(string source) => source switch
    {
        "scatter of the readings" => "reading scatter",
        "limit of error of the instrument" => "instrument's limit",
        _ => source,
    };

    /// <summary>What U comes from, the largest share first, and whether more readings would make it smaller; nothing where there is no U.</summary>
    public static IEnumerable<Line> Budget(Finding finding)
    {
        if (finding.Budget.IsEmpty || finding.HeadlineIfAny()?.ExpandedUncertainty is null)
            return [];
        var shares = string.Join("   ", finding.Budget.Where(line => line.Share >= LeastShare).Select(line => string.Create(CultureInfo.InvariantCulture, $"{Source(line.Source)} {line.Share * 100:0} %")));
        var fixedShare = finding.Budget.Where(line => !line.RepeatingHelps).Sum(line => line.Share);
        // Who is asked to measure more is not told in the same breath that it does not help.
        var help = fixedShare > 0.5 && finding.Advice.Action is AdviceAction.MeasureMore or AdviceAction.FindTheFault
            ? string.Create(CultureInfo.InvariantCulture, $"More readings with this instrument will not help: {fixedShare * 100:0} % stays.")
            : finding.Advice.Next == Advice.MoreWillNotDecide ? "More readings make it smaller, and not small enough to decide."
            : fixedShare > 0.5
            ? string.Create(CultureInfo.InvariantCulture, $"Reading more often will not help: {fixedShare * 100:0} % stays however often you read.")
            : fixedShare < LeastShare ? "More readings make it smaller."
            : string.Create(CultureInfo.InvariantCulture, $"More readings make it smaller, to {Math.Sqrt(fixedShare) * 100:0} % of this at best.");
        string[] lines = [.. shares.Length <= Width ? [shares] : Wrap.To(shares, Width), .. Wrap.To(help, Width)];
        string[] words = lines.Length == 2 ? ["U comes", "from"] : ["Where U", "comes", "from"];
        return lines.Select((text, i) => (Line)(" " + (i < words.Length ? words[i] : "").PadRight(10) + text));
    }

    /// <summary>What likely remains either way, where a drive of known grade is left as it is: the reason why leaving is no lack of care.</summary>
    public static IEnumerable<Line> Stakes(Finding finding, ShownUnits units)
    {
        if (finding.Advice.Action != AdviceAction.Leave || finding.Headline is not { Name: "scaleError", StandardUncertainty: { } changed } || finding.Parameter("scaleErrorGivenGrade") is not { Value: { } mean, StandardUncertainty: { } spread })
            yield break;
        var unit = units.Of("1");
        yield return $"             leaving it     about {Tens(Math.Sqrt((mean * mean) + (spread * spread)) / unit.Factor)} {unit.Symbol} likely remain (the screw's papers)";
        yield return $"             changing it    about {Tens(changed / unit.Factor)} {unit.Symbol} (the instrument's error goes into it)";
    }

    /// <summary>What must hold besides the odds for a scale to be changed, each with its two numbers.</summary>
    public static IEnumerable<string> Holds(Finding finding, FitOptions options, ShownUnits units)
    {
        if (finding.Headline is not { Name: "scaleError", Value: { } error } || finding.Advice.Setting is not { Current: { } current, StandardUncertainty: { } u } setting || options.TravelMm is not { } length || ToleranceText.LimitOf(finding, options) is not { } limit)
            yield break;
        // What the change removes, and what is left of it: the setting's own numbers, as it will be kept.
        var inches = units == ShownUnits.Inches;
        string Length(double mm) => inches ? (mm / Inch.Mm).ToString("F4", CultureInfo.InvariantCulture) : mm.ToString("F2", CultureInfo.InvariantCulture);
        var (off, after, unit) = (Length(Math.Abs((current / setting.AsStored) - 1) * length), Length(2 * u / setting.AsStored * length), units.Length.Symbol);
        yield return " These must hold too, and do";
        yield return Compared(1, "it matters for the work", $"{off}{(inches ? "" : " mm")} > {Length(limit / 4 * length)} {unit}, a quarter of limit");
        yield return Compared(2, "too small for a wrong lead", string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(error) * 1e6:0} < {WrongNominal.Of(options.Drive) * 1e6:0} ppm"));
        yield return Compared(3, "the change makes it smaller", $"{after} < {off} {unit}");
    }

    private static string Compared(int number, string what, string numbers) => string.Create(CultureInfo.InvariantCulture, $"   {number}  {what}").PadRight(ComparedColumn) + numbers;

    // "About" has no more digits than it can vouch for: tens from twenty on.
    private static string Tens(double value) => (value >= 20 ? Math.Round(value / 10) * 10 : Math.Round(value)).ToString("0", CultureInfo.InvariantCulture);
}
