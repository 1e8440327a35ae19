using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.Fits;
using Commission.Core.History;
using Commission.Core.Quantities;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>Findings that are read best on a drawing of what was measured: the dial, the bed, the four marks.</summary>
public static class FindingSketch
{
    private const double PerMetre = 1000;

    private static readonly Func<EntryBody.FindingMade, List<ReadingRecord>, ShownUnits, BarStuff, ImmutableArray<Line>?>[] Drawings = [Tram, Bed, Squareness];

    // Taken off beyond the height, so that the cutter touches everywhere.
    private const double AllCleansUpMm = 0.2;

    /// <summary>The finding's sheet with its drawing in place of the strip and the words; as it was where none fits.</summary>
    public static Sheet Drawn(Sheet sheet, EntryBody.FindingMade made, Ledger ledger, ShownUnits units, BarStuff stuff = BarStuff.Fresh)
    {
        var readings = ledger.ReadingsOf(made).Where(reading => reading.Counts).ToList();
        return readings.Count == 0 || Drawings.Select(draw => draw(made, readings, units, stuff)).FirstOrDefault(lines => lines is not null) is not { } body ? sheet : sheet with { Body = body };
    }

    private static ImmutableArray<Line>? Tram(EntryBody.FindingMade made, List<ReadingRecord> readings, ShownUnits units, BarStuff stuff)
    {
        var finding = made.Finding;
        if (finding.Parameter("tiltX") is not { Value: { } x } across || finding.Parameter("tiltY") is not { Value: { } y } || !made.Options.Numbers.TryGetValue("radius-mm", out var radius))
            return null;
        ImmutableArray<(double, double)> points = [.. readings.Where(reading => reading.Taken.Body.Words.GetValueOrDefault("line", "sweep") == "sweep" && reading.Taken.Body.Given.ContainsKey("angle_deg"))
            .Select(reading => (reading.Taken.Body.Given["angle_deg"], reading.Taken.Body.Value))];
        if (points.Length < 3)
            return null;
        var over = 2 * radius;
        var length = units.Length.Factor;
        var tilt = finding.Headline;
        var (value, u) = ValueFormat.Pair(tilt.Value!.Value * over / length, tilt.ExpandedUncertainty * over / length, signed: false);
        var strip = FindingSheet.GaugeOf(finding, made.Options, stuff) is { } gauge ? LimitStrip.Scaled(gauge, LimitStrip.Wide) : "";
        var limits = ToleranceText.LimitOf(finding, made.Options) is { } given ? (given * over / length).ToString("0.000#", CultureInfo.InvariantCulture) : null;
        return TramSheet.Body(new TramView
        {
            Points = points, Spindle = (x, y), Sweep = readings.Count > points.Length ? Swept(points, radius) : null,
            SlopeUncertainty = across.ExpandedUncertainty is { } slope ? string.Create(CultureInfo.InvariantCulture, $"+/- {slope * 1000:0.00} mrad  (k={across.CoverageFactor:0.00})") : "no U",
            Over = string.Create(CultureInfo.InvariantCulture, $"over {over / length:0.##} {units.Length.Symbol}: {value} {(u is null ? units.Length.Symbol + ", no U" : $"+/- {u} {units.Length.Symbol}")}"),
            Limit = limits is null ? "no limit" : $"limit {limits} {units.Length.Symbol}",
            Verdict = FindingSheet.Verdict(finding.Verdict, stuff), Strip = strip, Scale = strip.Length > 0 && limits is not null ? LimitStrip.Numbers(strip, limits, value) : "", Disposition = FindingSheet.Disposition(finding.Advice.Action, stuff),
            Units = units,
            Words = [.. ((string[])[readings.Count > points.Length ? "# the spindle's own lean, the slope of the board taken off." : "# there the surface is nearest to the spindle.", .. WhyNone(across, tilt), .. Advised(finding.Advice, stuff), .. finding.Remarks]).Select(units.Told)],
        });
    }

    // What was said of a result that does not hold any more is told as such, and asks for nothing.
    private static string[] Advised(Advice advice, BarStuff stuff) => FindingSheet.IsWithheld(stuff) ? ["It said: " + advice.Because] : advice.Next is { } next ? [advice.Because, next] : [advice.Because];

    // Why a number stands there without its uncertainty.
    private static IEnumerable<string> WhyNone(params FittedParameter[] shown) => shown.Where(parameter => parameter.ExpandedUncertainty is null)
        .Select(parameter => $"No U: {parameter.WhyNoUncertainty ?? "not given"}.").Distinct();

    // The plane as swept: mean, cosine and sine of the readings.
    private static (double X, double Y)? Swept(ImmutableArray<(double AngleDeg, double Mm)> points, double radius)
    {
        var system = new AugmentedSystem("mean", "cosine", "sine");
        foreach (var (angle, mm) in points)
            system.Reading([1, Math.Cos(angle * Math.PI / 180), Math.Sin(angle * Math.PI / 180)], mm);
        return system.Solve() is Core.Outcome<LeastSquaresSolution>.Good { Value: var fit } ? (fit.Estimates[1] / radius, fit.Estimates[2] / radius) : null;
    }

    private static ImmutableArray<Line>? Bed(EntryBody.FindingMade made, List<ReadingRecord> readings, ShownUnits units, BarStuff stuff)
    {
        var finding = made.Finding;
        if (finding.Parameter("slopeX") is not { Value: { } slopeX } alongX || finding.Parameter("slopeY") is not { Value: { } slopeY } alongY || finding.Parameter("rawRange") is not { Value: { } raw } height
            || readings.Exists(reading => !reading.Taken.Body.Given.ContainsKey("x_mm") || !reading.Taken.Body.Given.ContainsKey("y_mm")))
            return null;
        var plane = readings.Select(reading => reading.Taken.Body).Select(taken => taken.Value - (slopeX * taken.Given["x_mm"]) - (slopeY * taken.Given["y_mm"])).Average();
        ImmutableArray<BedPoint> points = [.. readings.Select(reading => reading.Taken.Body)
            .Select(taken => new BedPoint(taken.Given["x_mm"], taken.Given["y_mm"], taken.Value, taken.Value - (slopeX * taken.Given["x_mm"]) - (slopeY * taken.Given["y_mm"]) - plane))];
        var maps = BedMapSheet.Maps(points, units);
        if (maps.IsEmpty)
            return null;
        var (high, low) = (points.MaxBy(point => point.HeightMm)!, points.MinBy(point => point.HeightMm)!);
        var first = points[0].HeightMm;
        string At(BedPoint point) => string.Create(CultureInfo.InvariantCulture, $"({point.X / units.Length.Factor:0.#}, {point.Y / units.Length.Factor:0.#}) {Math.Round((point.HeightMm - first) * units.SmallDigit.PerMm):+0;-0;0}");
        string Depth(double mm) => (mm / units.Length.Factor).ToString(units == ShownUnits.Inches ? "0.000" : "0.00", CultureInfo.InvariantCulture) + " " + units.Length.Symbol;
        string[] words =
        [
            $"Highest  {At(high)}    lowest {At(low)}",
            $"Flatness {Shown.Parameter(finding.Headline, units: units)} {FindingSheet.Verdict(finding.Verdict, stuff)}, peak to valley about its plane",
            $"Slope    X {With(alongX, PerMetre, "", signed: true)}  Y {With(alongY, PerMetre, "", signed: true)} mm/m", "",
            $"If you surface: take off {Depth(raw + AllCleansUpMm)} ({With(height, 1 / units.Length.Factor, " " + units.Length.Symbol, signed: false)} height + {Depth(AllCleansUpMm)})",
            .. WhyNone(alongX, alongY, height),
            units.Told($"{FindingSheet.Disposition(finding.Advice.Action, stuff)}. {Advised(finding.Advice, stuff)[0]}"), .. finding.Remarks.Select(units.Told),
        ];
        return [.. maps, BedMapSheet.Legend(points, units), .. words.SelectMany(text => text.Length == 0 ? [""] : text.Contains("  ", StringComparison.Ordinal) ? [text] : Wrap.To(text, 78)).Select(text => (Line)(" " + text))];
    }

    // A value with its U and the factor, or that it has none.
    private static string With(FittedParameter parameter, double factor, string unit, bool signed)
    {
        var (value, u) = ValueFormat.Pair(parameter.Value!.Value * factor, parameter.ExpandedUncertainty * factor, signed);
        return u is null ? value + unit + " (no U)" : string.Create(CultureInfo.InvariantCulture, $"{value} +/- {u}{unit} (k={parameter.CoverageFactor:0.0})");
    }

    private static ImmutableArray<Line>? Squareness(EntryBody.FindingMade made, List<ReadingRecord> readings, ShownUnits units, BarStuff stuff)
    {
        var finding = made.Finding;
        if (finding.Headline is not { Name: "squareness", Value: { } g } || readings.Exists(reading => !reading.Taken.Body.Given.ContainsKey("x1_mm")))
            return null;
        var (leansRight, lean) = Lean(g, finding.Headline.ExpandedUncertainty);
        var sketch = SquarenessSheet.Sketch([.. readings.Select(reading => reading.Taken.Body).Select(taken => new MarkDistance((taken.Given["x1_mm"], taken.Given["y1_mm"]), (taken.Given["x2_mm"], taken.Given["y2_mm"]), taken.Value))], leansRight, units);
        if (sketch.IsEmpty)
            return null;
        var strip = FindingSheet.GaugeOf(finding, made.Options, stuff) is { } gauge ? LimitStrip.Scaled(gauge, LimitStrip.Wide) : "";
        var limits = ToleranceText.LimitOf(finding, made.Options) is { } given ? (given * 1000).ToString("0.00", CultureInfo.InvariantCulture) : null;
        var limit = limits is null ? "no limit" : $"limit {limits} mrad";
        return SquarenessSheet.Body(
            sketch,
            [leansRight is null ? "" : "drawn far more crooked than it is", "angle, off 90 degrees at A =", Shown.Parameter(finding.Headline, units: units).Replace(", 95 %", "", StringComparison.Ordinal), limit.PadRight(22) + FindingSheet.Verdict(finding.Verdict, stuff), "", strip, strip.Length > 0 && limits is not null ? LimitStrip.Numbers(strip, limits, null) : "", "", lean],
            [.. ((string[])[$"{FindingSheet.Disposition(finding.Advice.Action, stuff)}   {Advised(finding.Advice, stuff)[0]}", .. Advised(finding.Advice, stuff)[1..], .. finding.Remarks]).Select(units.Told)], units);
    }

    // Which way it leans is known only beyond its own uncertainty.
    private static (bool? Right, string Words) Lean(double g, double? uncertainty) => uncertainty switch
    {
        null => (g == 0 ? null : g > 0, "no U: which end is ahead is open"),
        { } u when Math.Abs(g) <= u => (null, "square within U: no end is ahead"),
        _ => g > 0 ? (true, "at A under 90 deg: +X is ahead") : (false, "at A over 90 deg: +X lags"),
    };
}
