using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Quantities;
using Commission.Core.Readings;

namespace Commission.Core.Characteristics;

/// <summary>How often something that should not happen happens: false trips in hours of running, with exact Poisson bounds.</summary>
public sealed class EventRate : CharacteristicKind
{
    /// <inheritdoc/>
    public override string Id => "event-rate";

    /// <inheritdoc/>
    public override string Title => "event rate";

    /// <inheritdoc/>
    public override string Method => "event-rate/1";

    /// <inheritdoc/>
    public override ImmutableArray<ColumnSpec> Columns =>
    [
        new("hours", ColumnContent.Number, "hours of running"),
        new("events", ColumnContent.Whole, "events counted in them"),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<ParameterSpec> Parameters =>
    [
        new("upperRate", "1/h", "upper bound of the rate, one-sided") { IsSize = true, IsBound = true },
        new("rate", "1/h", "events for one hour") { IsSize = true },
    ];

    /// <inheritdoc/>
    public override ImmutableArray<PublishedCase> PublishedCases =>
    [
        new("J. A. Hanley, A. Lippman-Hand, If nothing goes wrong, is everything all right, JAMA 249 (1983) 1743-1745: rule of three",
            "upper 95 % bound for no event, times the trials", "3.0", 1.9, () => UpperCount(0, 0.95)),
    ];

    /// <summary>Upper bound of the mean of a Poisson count, one-sided: half the chi-square quantile with 2k + 2 degrees of freedom.</summary>
    /// <param name="events">The count.</param>
    /// <param name="probability">Probability of the bound.</param>
    public static double UpperCount(int events, double probability) => ChiSquare.Quantile(probability, 2 * events + 2) / 2;

    /// <summary>Lower bound of the mean of a Poisson count, one-sided; 0 for no event.</summary>
    public static double LowerCount(int events, double probability) => events == 0 ? 0 : ChiSquare.Quantile(1 - probability, 2 * events) / 2;

    /// <inheritdoc/>
    public override string? WhyNoPicture => "a count of events in hours is read better as a number than as a picture";

    /// <inheritdoc/>
    public override Outcome<Finding> Evaluate(ReadingTable readings, FitOptions options)
    {
        var used = readings.Used.ToArray();
        var hours = used.Sum(row => row["hours"]);
        if (used.Any(row => row["hours"] < 0 || row["events"] < 0) || !(hours > 0))
            return new Problem("hours and events cannot be negative, and some time must have passed", "Give the hours watched, above zero, and the events counted in them");
        var events = (int)Math.Round(used.Sum(row => row["events"]));
        var upper = UpperCount(events, options.Coverage) / hours;
        var draft = new FindingDraft(this, readings, options) { NeedsInstrument = false };
        draft.AddBare("upperRate", "1/h", upper, "it is a bound itself");
        var arm = (options.Coverage + 1) / 2;
        var expanded = Math.Max(UpperCount(events, arm) - events, events - LowerCount(events, arm)) / hours;
        if (events == 0)
        {
            draft.AddBare("rate", "1/h", 0, "no event was seen; the upper bound says all that is known");
        }
        else
        {
            draft.Add(new FittedParameter
            {
                Name = "rate",
                Unit = "1/h",
                Value = events / hours,
                StandardUncertainty = Math.Sqrt(events) / hours,
                FreshUncertainty = Math.Sqrt(events) / hours,
                SharedUncertainty = 0,
                ExpandedUncertainty = expanded,
                CoverageFactor = expanded * hours / Math.Sqrt(events),
            });
        }
        draft.Remarks.Add(string.Create(CultureInfo.InvariantCulture,
            $"{events} events in {hours:0.##} hours show no more than this: fewer than {upper:0.####} an hour, at {options.Coverage * 100:0.#} %."));
        return draft.Close(null, judgement => Advise(judgement, events, hours), judge: limit => Judge(limit, events, hours, upper));
    }

    private static Judgement Judge(double? limit, int events, double hours, double upper)
    {
        if (limit is not { } t)
            return new Judgement(Verdict.None, null, null, "Give a tolerance such as 0.125/h, one event in eight hours.");
        var more = UpperCount(events, 0.95) / t - hours;
        return Judgement.OfBounds(events / hours, LowerCount(events, 0.95) / hours, upper, t,
            string.Create(CultureInfo.InvariantCulture, $"Run {Math.Max(0, more):0.#} more hours without an event."));
    }

    private static Advice Advise(Judgement judgement, int events, double hours) => judgement.Usual("The rate", new Advice
    {
        Action = AdviceAction.FindTheFault,
        Because = string.Create(CultureInfo.InvariantCulture, $"{events} events in {hours:0.##} hours are more than the limit allows."),
        Next = "Part the switch cable from motor and spindle cables first, then count again.",
    });
}
