using System.Globalization;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Instruments;
using Commission.Core.Quantities;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Requests;

/// <summary>What a check against a block found.</summary>
/// <param name="ErrorMm">Mean of the readings less the block, mm.</param>
/// <param name="ExpandedMm">Expanded uncertainty of that error at 95 %, mm.</param>
/// <param name="Factor">Its coverage factor.</param>
/// <param name="LimitMm">Limit of error that follows, mm.</param>
public sealed record InstrumentCheck(double ErrorMm, double ExpandedMm, double Factor, double LimitMm)
{
    /// <summary>The error with its uncertainty in one line: <c>+0.0140 +/- 0.0079 mm (k=2.06, 95 %)</c>.</summary>
    public string Words(ShownUnits units) => ValueFormat.Line(ErrorMm, ExpandedMm, units.Length, Factor);
}

/// <summary>Checks an instrument against a block or rod of known length, and describes it anew with the limit that follows.</summary>
/// <remarks>
/// The error at the block is the mean of the readings less the block; its uncertainty has the scatter of the mean, the last digit and the
/// block (the latter two rectangular). The new limit holds the whole interval: |error| + U. It is never taken smaller than one last digit,
/// and where the error lies beyond the limit of before by more than U the instrument is not described anew: it is out of order.
/// Arithmetic of JCGM 100:2008, 4.2, 4.3.7 and G.4; the rule for the limit is our choice.
/// </remarks>
public sealed class CheckInstrument(IJournal journal)
{
    /// <summary>How the note begins that keeps what the instrument showed.</summary>
    internal const string ReadOn = "read on ";

    private const int Fewest = 3;

    // What lies further from the block is another block, or a slip (our choice).
    private const double FarMm = 1, NearMm = 0.25;

    // The limit is kept to 0.1 um, rounded away from zero: it must hold the whole interval.
    private const double LimitSteps = 1e4;

    /// <summary>Makes the check.</summary>
    /// <param name="instrument">The instrument.</param>
    /// <param name="block">Length of the block as typed.</param>
    /// <param name="blockLimit">Limit of error of the block as typed; empty where it is not known.</param>
    /// <param name="readings">Readings as typed, with blanks between.</param>
    /// <param name="on">Day, for the source.</param>
    /// <param name="units">Units of the owner: numbers typed without one are meant in them.</param>
    public Outcome<InstrumentCheck> Run(Instrument instrument, string block, string blockLimit, string readings, string on, ShownUnits units)
    {
        // Equal readings show no scatter: without a last digit nothing would be uncertain.
        if (instrument.ResolutionMm is not { } digit || !(digit > 0))
            return new Problem($"the last digit of {instrument.Name} is not known, so what the check is worth cannot be told", "Add it anew with its last digit, then check it");
        return Length(block, units).Then(length => Limit(blockLimit, digit, units).Then(limit => Numbers(readings, units).Then(values => Found(instrument, length, limit, digit, values, units).Then(found =>
            journal.Append(new EntryBody.InstrumentDescribed(
                instrument with { LimitMm = found.LimitMm, Source = string.Create(CultureInfo.InvariantCulture, $"checked against {length:0.####} mm, {on}: {found.Words(ShownUnits.Millimetres)}") }, Retired: false))
            .Then(described => journal.Append(new EntryBody.Noted(described.Sequence, Read(length, limit, blockLimit.Length > 0, values)))).Then<InstrumentCheck>(_ => found)))));
    }

    /// <summary>What is odd about one reading of a block: further from it than any instrument reads, and from all readings before. Null where it may be so, or is no number.</summary>
    /// <param name="typed">The reading as typed.</param>
    /// <param name="block">Length of the block as typed.</param>
    /// <param name="before">The readings before it as typed: where one of them was kept so far off, the block is the odd one.</param>
    /// <param name="units">Units of the owner.</param>
    public static (string Reason, double? MeantMm)? Odd(string typed, string block, IEnumerable<string> before, ShownUnits units) =>
        Length(typed, units) is Outcome<double>.Good { Value: var mm } && Length(block, units) is Outcome<double>.Good { Value: var length } && Math.Abs(mm - length) > FarMm
            && !before.Any(one => Length(one, units) is Outcome<double>.Good { Value: var kept } && Math.Abs(mm - kept) <= FarMm)
            ? (units.Told(string.Create(CultureInfo.InvariantCulture, $"{mm:0.####} mm lies {Math.Abs(mm - length):0.##} mm from the block of {length:0.####} mm")), Core.Suspects.TypingSlips.Explain(mm, length, NearMm, units)?.Meant) : null;

    // The readings themselves stand in a note about the description: what follows from them can be computed again.
    private static string Read(double block, double blockLimit, bool limitKnown, List<double> values) => string.Create(
        CultureInfo.InvariantCulture,
        $"{ReadOn}{block:0.####} mm: {string.Join(", ", values.Select(value => value.ToString("0.#####", CultureInfo.InvariantCulture)))} mm; limit of error of the block {blockLimit:0.#####} mm{(limitKnown ? "" : ", not known and taken as the last digit")}");

    private static Outcome<InstrumentCheck> Found(Instrument instrument, double block, double blockLimit, double digit, List<double> values, ShownUnits units)
    {
        if (values.Count < Fewest)
            return new Problem($"{values.Count} readings show no scatter", "Read it at least three times, best five, each time anew");
        if (!(block > 0) || values.Exists(value => Math.Abs(value - block) > FarMm))
        {
            var named = values.Where(value => Math.Abs(value - block) > FarMm).Select(value => value.ToString("0.####", CultureInfo.InvariantCulture) + " mm").FirstOrDefault("a reading");
            return new Problem(units.Told($"{named} lies more than 1.0 mm from the block"), "Check the block's length and the readings");
        }

        var mean = values.Average();
        var scatter = Math.Sqrt(values.Sum(value => (value - mean) * (value - mean)) / (values.Count - 1));
        var u = Math.Sqrt((scatter * scatter / values.Count) + (digit * digit / 12) + (blockLimit * blockLimit / 3));
        // Only the scatter has few degrees of freedom (Welch and Satterthwaite, JCGM 100:2008, G.4).
        var own = scatter * scatter / values.Count;
        var freedom = own > 0 ? u * u * u * u / (own * own / (values.Count - 1)) : 1e6;
        var factor = StudentT.Quantile(0.975, Math.Min(freedom, 1e6));
        var expanded = factor * u;
        var error = mean - block;
        return instrument.LimitMm is { } limit && Math.Abs(error) > limit + expanded
            ? new Problem(units.Told(string.Create(CultureInfo.InvariantCulture, $"it reads {error:+0.000;-0.000} mm off, beyond its limit of error of {limit:0.000} mm")), "Clean jaws and block, set the zero, check again; else it is out of order")
            : new InstrumentCheck(error, expanded, factor, Math.Max(digit, Math.Ceiling((Math.Abs(error) + expanded) * LimitSteps) / LimitSteps));
    }

    private static Outcome<double> Length(string typed, ShownUnits units) => TypedNumber.Read(typed, units.Length.Symbol) switch
    {
        NumberReading.Clear clear => clear.Number.In("mm"),
        NumberReading.NotANumber not => not.Problem,
        _ => new Problem($"{PlainText.Of(typed)} has two meanings", "Type it with a point, or without"),
    };

    private static Outcome<double> Limit(string typed, double digit, ShownUnits units) => typed.Length == 0
        ? digit
        : Length(typed, units).Then<double>(limit => limit >= 0 ? limit : new Problem("a limit of error is not below 0", "Type it without its sign"));

    private static Outcome<List<double>> Numbers(string typed, ShownUnits units)
    {
        var values = new List<double>();
        foreach (var part in typed.Split([' ', ';'], StringSplitOptions.RemoveEmptyEntries))
        {
            switch (Length(part, units))
            {
                case Outcome<double>.Good good:
                    values.Add(good.Value);
                    break;
                case Outcome<double>.Bad bad:
                    return new Outcome<List<double>>.Bad(bad.Problems);
            }
        }

        return values;
    }
}
