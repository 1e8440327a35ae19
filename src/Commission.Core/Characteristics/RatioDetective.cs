using System.Collections.Immutable;
using Commission.Core.Machines;
using Commission.Core.Quantities;
using static System.FormattableString;

namespace Commission.Core.Characteristics;

/// <summary>A mistake that would explain a ratio of measured to commanded travel.</summary>
/// <param name="Factor">The ratio it makes.</param>
/// <param name="Words">What it is, a clause without a full stop.</param>
/// <param name="Effort">How far-fetched it is; the cheapest to look at comes first.</param>
public sealed record RatioExplanation(double Factor, string Words, double Effort);

/// <summary>Finds the arithmetic behind a grossly wrong ratio: switches, leads, pitches, teeth, units.</summary>
public static class RatioDetective
{
    /// <summary>A ratio is explained by a factor within this part of it.</summary>
    public const double Match = .003;

    private const double WidestMatch = .01;

    private static readonly double[] Leads = [1, 1.25, 1.5, 1.75, 2, 2.5, 2.54, 3, 4, 5, 5.08, 6, 6.35, 8, 10, 12, 12.7, 16, 20, 25, 25.4];
    private static readonly double[] BeltPitches = [2, 2.032, 2.5, 3, 5, 5.08];
    private static readonly int[] Teeth = [12, 14, 15, 16, 18, 20, 24, 25, 30, 32, 36, 40];
    private static readonly ImmutableArray<RatioExplanation> Common = [.. Switches(), .. Units()];

    /// <summary>All usual mistakes, and pairs of a switch with another one, that lie within 0.3 % of a ratio, the cheapest first.</summary>
    /// <param name="ratio">Measured travel over commanded travel, positive.</param>
    /// <param name="options">What is known about the drive; it leaves out what cannot be.</param>
    /// <param name="uncertainty">Relative uncertainty of the ratio: a coarse rule widens what matches, up to 1 %, so that a lead of 5.08 mm still stands apart from one of 5.</param>
    public static ImmutableArray<RatioExplanation> Explain(double ratio, FitOptions options, double uncertainty = 0)
    {
        var within = Math.Clamp(uncertainty, Match, WidestMatch);
        bool Fits(double factor) => Math.Abs(factor - 1) > Match && Math.Abs((ratio / factor) - 1) <= within;
        ImmutableArray<RatioExplanation> drives = [.. Drives(options)];
        var pairs =
            from one in Common
            from two in drives
            where Fits(one.Factor * two.Factor)
            select new RatioExplanation(one.Factor * two.Factor, $"{one.Words}, and {two.Words}", one.Effort + two.Effort + 2);
        return [.. Common.Concat(drives).Where(cause => Fits(cause.Factor)).Concat(pairs)
            .OrderBy(cause => cause.Effort)
            .ThenBy(cause => Math.Abs((ratio / cause.Factor) - 1))
            .DistinctBy(cause => cause.Words)];
    }

    private static IEnumerable<RatioExplanation> Switches()
    {
        for (var k = 1; k <= 5; k++)
        {
            var factor = 1 << k;
            var motor = factor == 2 ? ", or the motor has 1.8 degree steps and 0.9 were reckoned" : "";
            var other = factor == 2 ? ", or the motor has 0.9 degree steps and 1.8 were reckoned" : "";
            yield return new(factor, Invariant($"the microstep switches stand at 1/{factor} of the microsteps reckoned{motor}"), k);
            yield return new(1.0 / factor, Invariant($"the microstep switches stand at {factor} times the microsteps reckoned{other}"), k);
        }
    }

    private static IEnumerable<RatioExplanation> Units()
    {
        yield return new(Inch.Mm, "the controller takes the numbers as inches", 1);
        yield return new(1 / Inch.Mm, "the commands were meant as inches and taken as millimetres", 1);
    }

    private static IEnumerable<RatioExplanation> Drives(FitOptions options)
    {
        var known = options.TravelPerTurnMm;
        if (options.Drive is DriveKind.Screw or DriveKind.Unknown)
        {
            foreach (var set in Leads.Where(lead => known is null || Math.Abs((lead / known.Value) - 1) < .001))
                foreach (var real in Leads.Where(lead => lead != set))
                    yield return new(real / set, Invariant($"the lead is {real} mm and {set} was reckoned"), Familiar(real, set) ? 1 : known is null ? 5 : 3);
        }

        if (options.Drive is DriveKind.Belt or DriveKind.Unknown)
        {
            foreach (var set in BeltPitches)
                foreach (var real in BeltPitches.Where(pitch => pitch != set))
                    yield return new(real / set, Invariant($"the belt has a pitch of {real} mm and {set} was reckoned"), real / set is > .98 and < 1.02 ? 1.5 : 4);
            foreach (var set in Teeth)
                foreach (var real in Teeth.Where(teeth => teeth != set))
                    yield return new((double)real / set, Invariant($"the pulley has {real} teeth and {set} were reckoned"), real is 16 or 20 && set is 16 or 20 ? 1.5 : 6);
        }

        if (options.Drive is DriveKind.Rack or DriveKind.Unknown)
        {
            yield return new(Math.PI / 3, "the rack's pitch is 3.1416 mm and 3 was reckoned", 2);
            yield return new(3 / Math.PI, "the rack's pitch is 3 mm and 3.1416 was reckoned", 3);
        }
    }

    // The confusions met again and again: inch screws sold beside metric ones, and the common leads of 5, 8 and 10 mm.
    private static bool Familiar(double real, double set) =>
        (real, set) is (5.08, 5) or (5, 5.08) or (8, 5) or (5, 8) or (6.35, 5) or (5, 6.35) or (10, 5) or (5, 10);
}
