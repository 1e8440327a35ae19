using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Instruments;

namespace Commission.Core.Plans;

/// <summary>Instrument and hand with everything a plan needs filled in, and what was assumed for that.</summary>
/// <param name="Instrument">The instrument, its limit known.</param>
/// <param name="ScatterMm">Scatter of one reading, mm.</param>
/// <param name="Freedom">Degrees of freedom that the scatter is known with; 0 where it is assumed.</param>
/// <param name="Assumed">What was assumed, each a sentence.</param>
internal sealed record PlanTool(Instrument Instrument, double ScatterMm, double Freedom, ImmutableArray<string> Assumed)
{
    /// <summary>Limit of error after one check against a block or rod near the length used: 5 um remain as a standard uncertainty (our choice).</summary>
    public const double CheckedLimitMm = 0.00866;

    /// <summary>Limit of error, mm.</summary>
    public double LimitMm => Instrument.LimitMm ?? 0;

    /// <summary>The same instrument after such a check.</summary>
    public PlanOther CheckedOnce => new(
        "the same caliper, checked once against a known length", "a gauge block or setting rod near the length used", 5,
        Instrument with { Name = Instrument.Name + ", checked", LimitMm = CheckedLimitMm }, ScatterMm)
    {
        Checks = true,
    };

    /// <summary>Fills in what was not told.</summary>
    /// <param name="question">The question.</param>
    /// <param name="usual">Catalogue id of the instrument usually taken.</param>
    public static PlanTool Of(PlanQuestion question, string usual)
    {
        var assumed = ImmutableArray.CreateBuilder<string>();
        var listed = InstrumentCatalogue.All.First(row => row.Id == usual);
        var instrument = question.Instrument;
        if (instrument is null)
        {
            instrument = listed.Instrument;
            assumed.Add($"No instrument was named: reckoned with this: {listed.Title}.");
        }
        else if (instrument.LimitMm is null)
        {
            var like = InstrumentCatalogue.All.FirstOrDefault(row => row.Instrument.Kind == instrument.Kind && row.Instrument.LimitMm is not null) ?? listed;
            instrument = instrument with { LimitMm = like.Instrument.LimitMm };
            assumed.Add($"The limit of error of the instrument is not known: reckoned with that of this: {like.Title}.");
        }

        if (question.Hand is { StandardDeviationMm: > 0 } hand) return new(instrument, hand.StandardDeviationMm, hand.DegreesOfFreedom, assumed.ToImmutable());
        var scatter = UsualHand.ScatterMm(instrument.Kind);
        assumed.Add(string.Create(CultureInfo.InvariantCulture, $"No study of the hand was named: reckoned with a usual one, {scatter:0.###} mm for one reading (common practice, no source)."));
        return new(instrument, scatter, 0, assumed.ToImmutable());
    }
}
