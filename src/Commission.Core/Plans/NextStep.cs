using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Machines;

namespace Commission.Core.Plans;

/// <summary>The cheapest way out of "undecided", reckoned by the planner: more of the same, another instrument of the owner, or something borrowed.</summary>
public static class NextStep
{
    // One-sided 95 %: the guard band that has to fit between value and limit (after ISO 14253-1:2017, from memory).
    private const double GuardFactor = 1.65;

    // What has to be borrowed costs a walk: our choice.
    private const double BorrowingMinutes = 30;

    /// <summary>The finding, with the cheapest next step named where its headline is undecided.</summary>
    /// <param name="finding">The finding.</param>
    /// <param name="options">What its fit knew.</param>
    /// <param name="machine">The machine; null where none is known: the readings' own length then stands for its travel.</param>
    /// <param name="owned">The owner's instruments.</param>
    /// <param name="lengthMm">Longest commanded length of the readings, mm.</param>
    public static Finding Named(Finding finding, FitOptions options, Machine? machine, ImmutableArray<Instrument> owned, double lengthMm)
    {
        if (finding.Advice is not { AsksForCheapest: true } advice) return finding;
        var settled = finding with { Advice = advice with { AsksForCheapest = false } };
        if (finding.Verdict != Verdict.Undecided || !Planner.PlannedKinds.Contains(finding.Kind) || Gap(finding, options, lengthMm) is not { } gap) return settled;
        var question = Question(finding, options, machine, owned, gap, lengthMm);
        return Planner.For(question) is Outcome<PlanAnswer>.Good { Value: var plan } && Words(finding, plan, gap) is { } words
            ? settled with { Advice = settled.Advice with { Next = words } }
            : settled;
    }

    private static double? Gap(Finding finding, FitOptions options, double lengthMm) =>
        finding.Headline is { Value: { } value, StandardUncertainty: > 0 } headline
        && options.Tolerance?.In(headline.Unit, options.TravelMm ?? lengthMm) is Outcome<double>.Good { Value: var limit }
        && Math.Abs(limit - Math.Abs(value)) is > 0 and var gap
            ? gap
            : null;

    private static PlanQuestion Question(Finding finding, FitOptions options, Machine? machine, ImmutableArray<Instrument> owned, double gap, double lengthMm)
    {
        var travel = Math.Max(lengthMm, options.TravelMm ?? 0) + (2 * (AxisPlan.OverrunMm + 1));
        var described = machine ?? new Machine { Name = "as read", TravelMm = [travel, travel, travel] };
        var unknowns = Math.Max(1, finding.Parameters.Length);
        return new PlanQuestion
        {
            Kind = finding.Kind, Machine = described, Axis = options.Axis, Instrument = options.Instrument, Owned = owned,
            Hand = options.Hand ?? (finding.ResidualStandardDeviation is > 0 and var s ? new HandStudy("the readings", "the readings", s, Math.Max(1, finding.Used - unknowns)) : null),
            Wanted = 2 / GuardFactor * gap, Numbers = options.Numbers,
        };
    }

    private static string? Words(Finding finding, PlanAnswer plan, double gap)
    {
        var headline = finding.Headline;
        var allowed = gap / GuardFactor;
        var best = plan.Alternatives.Prepend(plan.Way).Where(way => !way.Predicted.IsEmpty && Together(headline, way) <= allowed)
            .OrderBy(way => way.Minutes + (way.Needs is null ? 0 : BorrowingMinutes)).FirstOrDefault();
        if (best is null)
        {
            return string.Create(CultureInfo.InvariantCulture,
                $"Nothing the planner knows decides it: the value lies {PlanWords.Shown(gap, headline.Unit)} from the limit. Take it as lying at the limit, or ask whether the work needs so tight a limit.");
        }

        var instrument = best.Instrument is null ? "" : best.Needs is null ? " with another instrument of yours" : $" (it needs {best.Needs})";
        return string.Create(CultureInfo.InvariantCulture,
            $"Take {best.Readings} readings more{instrument}, about {best.Minutes:0} min: {best.Name}. That should decide it, if the value stays where it is.");
    }

    /// <summary>Standard uncertainty once the new readings are counted in: what repeats draw afresh falls, what comes with one instrument stays.</summary>
    private static double Together(FittedParameter now, PlanWay way)
    {
        static double Both(double a, double b) => 1 / Math.Sqrt((1 / (a * a)) + (1 / (b * b)));
        var told = way.Predicted[0];
        if (way.Instrument is not null) return Both(now.StandardUncertainty!.Value, told.StandardUncertainty);
        var shared = now.SharedUncertainty ?? 0;
        var fresh = Both(now.FreshUncertainty ?? now.StandardUncertainty!.Value, told.FreshUncertainty);
        return Math.Sqrt((shared * shared) + (fresh * fresh));
    }
}
