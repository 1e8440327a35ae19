using System.Globalization;
using Commission.Core.Instruments;
using Commission.Core.Quantities;

namespace Commission.Core.Procedures;

/// <summary>Looks whether an instrument can have shown what was typed: no finer digit than its last one, nothing beyond its range.</summary>
public static class InstrumentWatch
{
    /// <summary>A notice about a reading; null where the instrument can have shown it, or where it is not known well enough to tell.</summary>
    /// <param name="run">The run, whose plan tells what the reading may have been meant to be.</param>
    /// <param name="reading">The reading.</param>
    /// <param name="instrument">What it was read with; null where nobody knows.</param>
    /// <param name="assumedUnit">Symbol of the unit where none was typed, <c>mm</c> or <c>in</c>.</param>
    public static SlipNotice? About(ProcedureRun run, TakenReading reading, Instrument? instrument, string assumedUnit)
    {
        // What the program itself suggested is not held against digits again.
        if (instrument is null || reading.IsSuggested || !reading.Column.EndsWith("_mm", StringComparison.Ordinal)) return null;
        var name = PlainText.Of(instrument.Name);
        if (instrument.IsTooShortFor(reading.Value) || (instrument.IsBehindItsLastMark(reading.Value) && !HasKeptOne(run, reading, instrument)))
        {
            var (unit, size) = assumedUnit == "in" ? ("in", Inch.Mm) : ("mm", 1.0);
            var meant = AsMillimetres(run, reading, instrument, assumedUnit);
            return new SlipNotice(string.Create(CultureInfo.InvariantCulture, $"{reading.Value / size:0.####} {unit} is more than {name} can read, {instrument.RangeMm / size:0.###} {unit}{(meant is null ? "" : "; perhaps it shows millimetres")}"), meant, reading.Sequence);
        }

        return instrument.ResolutionMm is > 0 and var digit && TooFine(reading, digit, assumedUnit) is { } last
            ? new SlipNotice($"{last.Digit} is {(last.IsTold ? "the last digit of " + name : "the finest that " + name + " can show")}; {PlainText.Of(Number(reading.Typed))} has more", last.Meant, reading.Sequence)
            : null;
    }

    /// <summary>What a reading is taken with, as far as the run knows it; null where its step names another kind of instrument.</summary>
    /// <param name="run">The run.</param>
    /// <param name="reading">The reading.</param>
    public static Instrument? Of(ProcedureRun run, TakenReading reading) => run.Setting.Instrument is { } own
        && run.Items.FirstOrDefault(item => item.Name == reading.Step)?.Step is Step.Read read && (read.With is null || read.With == own.Kind) ? own : null;

    /// <summary>Whether the instrument of a reading can show what it may have meant. What was read in fractions was read on another scale.</summary>
    /// <param name="run">The run.</param>
    /// <param name="reading">The reading.</param>
    /// <param name="meantMm">What it may have meant, mm.</param>
    public static bool CanShow(ProcedureRun run, TakenReading reading, double meantMm) => IsFraction(reading) || LastDigit.Shows(Of(run, reading), meantMm);

    // Where one was kept the caliper does read there: the others of the step are not asked about one by one.
    private static bool HasKeptOne(ProcedureRun run, TakenReading reading, Instrument instrument) =>
        run.Readings.Any(one => one is { Stands: true, KeptThoughQuestioned: true } && one.Step == reading.Step && instrument.IsBehindItsLastMark(one.Value));

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

        return LastDigit.Shows(instrument, typed.Value) ? typed.Value : null;
    }

    // What a place may be off by play and scale, mm (our choice).
    private const double PlanMm = 2;

    // Fractions of an inch are no multiples of a digit: they were read on another scale.
    private static (string Digit, bool IsTold, double Meant)? TooFine(TakenReading reading, double digitMm, string assumedUnit)
    {
        if (IsFraction(reading)) return null;
        var unit = TypedNumber.Read(Number(reading.Typed), assumedUnit) switch
        {
            NumberReading.Clear clear => clear.Number.Unit.Symbol,
            NumberReading.Ambiguous two => two.AsDecimal.Unit.Symbol,
            _ => null,
        };
        if (unit is not ("mm" or "in")) return null;
        var (digit, size) = (LastDigit.Of(digitMm, unit == "in"), unit == "in" ? Inch.Mm : 1.0);
        return LastDigit.IsWhole(reading.Value / size, digit) ? null
            : (string.Create(CultureInfo.InvariantCulture, $"{digit:0.#####} {unit}"), (unit == "in") == (LastDigit.ToldInches(digitMm) is not null), Math.Round(Math.Round(reading.Value / size / digit) * digit * size, 9));
    }

    private static bool IsFraction(TakenReading reading) => reading.Typed.Contains('/', StringComparison.Ordinal);

    // "8.49 at 204.195" tells the position too.
    private static string Number(string typed) => typed.Split(" at ", 2)[0];
}
