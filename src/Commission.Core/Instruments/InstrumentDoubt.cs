using System.Collections.Immutable;
using Commission.Core.Quantities;
using static System.FormattableString;

namespace Commission.Core.Instruments;

/// <summary>What is odd about a number that an owner tells of an instrument: asked about before it is kept. Held against the catalogue, whose limits have their sources.</summary>
/// <param name="Reason">What is odd, a clause.</param>
/// <param name="MeantMm">What it may have meant, mm; null where nothing is near.</param>
public sealed record InstrumentDoubt(string Reason, double? MeantMm)
{
    // An instrument five times as good or as bad as its like is rare, and a point in the wrong place makes ten of it (our choice).
    private const double Far = 5;

    // So near to what the catalogue has must come what a slip would explain.
    private const double Near = 2;

    private static readonly ImmutableArray<double> Slips = [10, 0.1, 100, 0.01, Inch.Mm, 1 / Inch.Mm];

    /// <summary>The doubt about a limit of error; null where it can be so, or where the catalogue knows nothing of the kind.</summary>
    /// <param name="kind">What kind of instrument it is.</param>
    /// <param name="likeId">The row of the catalogue it is described by; null for none.</param>
    /// <param name="limitMm">The limit told, mm.</param>
    /// <param name="units">Units of the sentence; millimetres where not told.</param>
    public static InstrumentDoubt? AboutLimit(InstrumentKind kind, string? likeId, double? limitMm, ShownUnits? units = null) => About(kind, likeId, limitMm, of => of.LimitMm, "a limit of error", units);

    /// <summary>The same about a last digit.</summary>
    /// <param name="kind">What kind of instrument it is.</param>
    /// <param name="likeId">The row of the catalogue it is described by; null for none.</param>
    /// <param name="digitMm">The last digit told, mm.</param>
    /// <param name="units">Units of the sentence; millimetres where not told.</param>
    public static InstrumentDoubt? AboutDigit(InstrumentKind kind, string? likeId, double? digitMm, ShownUnits? units = null) => About(kind, likeId, digitMm, of => of.ResolutionMm, "a last digit", units);

    /// <summary>The doubts about a whole description, the limit first.</summary>
    /// <param name="told">The description.</param>
    /// <param name="likeId">The row of the catalogue it is described by; null for none.</param>
    public static IEnumerable<InstrumentDoubt> Among(Instrument told, string? likeId) =>
        new[] { AboutLimit(told.Kind, likeId, told.LimitMm), AboutDigit(told.Kind, likeId, told.ResolutionMm) }.OfType<InstrumentDoubt>();

    private static InstrumentDoubt? About(InstrumentKind kind, string? likeId, double? told, Func<Instrument, double?> number, string what, ShownUnits? units)
    {
        var like = InstrumentCatalogue.All.Where(row => likeId is null ? row.Instrument.Kind == kind : row.Id == likeId).Where(row => number(row.Instrument) > 0).ToImmutableArray();
        if (told is not (> 0 and var mm) || like.IsEmpty)
            return null;
        var (low, high) = (like.Min(row => number(row.Instrument)!.Value), like.Max(row => number(row.Instrument)!.Value));
        if (mm <= high * Far && mm >= low / Far)
            return null;
        var meant = Slips.Select(slip => Math.Round(mm * slip, 9)).Where(one => one <= high * Near && one >= low / Near).Select(one => (double?)one).FirstOrDefault() ?? (low == high ? low : null);
        var (size, unit) = (units ?? ShownUnits.Millimetres).Length is var length ? (length.Factor, length.Symbol) : default;
        var usual = low == high ? Invariant($"{low / size:0.#####}") : Invariant($"{low / size:0.#####} to {high / size:0.#####}");
        return new(Invariant($"{what} of {mm / size:0.#####} {unit} is far {(mm > high ? "above" : "below")} that of its like: {usual} {unit}"), meant);
    }
}
