using System.Globalization;
using Commission.Core.Instruments;
using Commission.Core.Quantities;

namespace Commission.Core.Procedures;

/// <summary>Looks whether an instrument can have shown what was typed: no finer digit than its last one, nothing beyond its range.</summary>
public static class InstrumentWatch
{
    // A share of the last digit: what is left over by binary fractions.
    private const double Whole = 1e-6;

    /// <summary>A notice about a reading; null where the instrument can have shown it, or where it is not known well enough to tell.</summary>
    /// <param name="run">The run, whose plan tells what the reading may have been meant to be.</param>
    /// <param name="reading">The reading.</param>
    /// <param name="instrument">What it was read with; null where nobody knows.</param>
    /// <param name="assumedUnit">Symbol of the unit where none was typed, <c>mm</c> or <c>in</c>.</param>
    public static SlipNotice? About(ProcedureRun run, TakenReading reading, Instrument? instrument, string assumedUnit)
    {
        if (instrument is null || !reading.Column.EndsWith("_mm", StringComparison.Ordinal)) return null;
        var name = PlainText.Of(instrument.Name);
        if (instrument.IsTooShortFor(reading.Value))
        {
            var (unit, size) = assumedUnit == "in" ? ("in", Inch.Mm) : ("mm", 1.0);
            var meant = AsMillimetres(run, reading, instrument, assumedUnit);
            return new SlipNotice(string.Create(CultureInfo.InvariantCulture, $"{reading.Value / size:0.####} {unit} is more than {name} can read, {instrument.RangeMm / size:0.###} {unit}{(meant is null ? "" : "; perhaps it shows millimetres")}"), meant, reading.Sequence);
        }

        return instrument.ResolutionMm is > 0 and var digit && TooFine(reading, digit, assumedUnit) is { } last
            ? new SlipNotice($"{last.Digit} is {(last.IsTold ? "the last digit of " + name : "the finest that " + name + " can show")}; {PlainText.Of(Number(reading.Typed))} has more", last.Meant, reading.Sequence)
            : null;
    }

    // A number without a unit on a machine of inches, where the instrument may stand in millimetres: offered where it and all other places of
    // the plan, as far from it as they are commanded, lie within what the instrument reads.
    private static double? AsMillimetres(ProcedureRun run, TakenReading reading, Instrument instrument, string assumedUnit)
    {
        if (assumedUnit != "in" || TypedNumber.Read(Number(reading.Typed), "mm") is not NumberReading.Clear { Number: { Unit.Symbol: "mm" } typed }) return null;
        if (reading.Cell.Given.TryGetValue("commanded_mm", out var here))
        {
            var places = run.Cells.Concat(run.Readings.Where(one => one.Step == reading.Step).Select(one => one.Cell)).Where(cell => cell.Given.ContainsKey("commanded_mm")).Select(cell => typed.Value + cell.Given["commanded_mm"] - here);
            if (places.Any(place => place < -PlanMm || instrument.IsTooShortFor(place - PlanMm))) return null;
        }

        return instrument.IsTooShortFor(typed.Value) ? null : typed.Value;
    }

    // What a place may be off by play and scale, mm (our choice).
    private const double PlanMm = 2;

    // Fractions of an inch are no multiples of a digit: they were read on another scale.
    private static (string Digit, bool IsTold, double Meant)? TooFine(TakenReading reading, double digitMm, string assumedUnit)
    {
        if (reading.Typed.Contains('/', StringComparison.Ordinal)) return null;
        var unit = TypedNumber.Read(Number(reading.Typed), assumedUnit) switch
        {
            NumberReading.Clear clear => clear.Number.Unit.Symbol,
            NumberReading.Ambiguous two => two.AsDecimal.Unit.Symbol,
            _ => null,
        };
        if (unit is not ("mm" or "in")) return null;
        var (digit, size) = unit == "mm" ? (digitMm, 1.0) : (ToldInches(digitMm) ?? FinestInch, Inch.Mm);
        var steps = reading.Value / size / digit;
        return Math.Abs(steps - Math.Round(steps)) > Math.Max(Whole, Math.Abs(steps) * 1e-12) ? (string.Create(CultureInfo.InvariantCulture, $"{digit:0.#####} {unit}"), unit == "mm" || ToldInches(digitMm) is not null, Math.Round(Math.Round(steps) * digit * size, 9)) : null;
    }

    // Inches are typed to four decimals at most; an instrument whose digit is told in mm shows some digit of an inch, and nobody told which.
    private const double FinestInch = 0.0001;

    // The digit where it was told in inches; null where it was told in mm.
    private static double? ToldInches(double digitMm) => Math.Round(digitMm / Inch.Mm, 5) is > 0 and var told && Math.Abs((digitMm / Inch.Mm) - told) < 1e-9 ? told : null;

    // "8.49 at 204.195" tells the position too.
    private static string Number(string typed) => typed.Split(" at ", 2)[0];
}
