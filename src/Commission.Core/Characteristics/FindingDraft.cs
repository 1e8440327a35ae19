using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Quantities;
using Commission.Core.Readings;
using Commission.Core.Suspects;

namespace Commission.Core.Characteristics;

/// <summary>Gathers a finding: parameters with their uncertainties, budget, verdict. What every kind would otherwise repeat.</summary>
internal sealed class FindingDraft(CharacteristicKind kind, ReadingTable readings, FitOptions options)
{
    private const double MostFixed = 0.8;
    private const int MostNamed = 7;

    // What an instrument reads from its own zero; other columns hold deviations or places.
    private static readonly string[] WholeLengths = ["measured_mm", "distance_mm", "diameter_mm"];

    private readonly List<FittedParameter> parameters = [];
    private Spread? headline;

    /// <summary>Remarks, each a sentence.</summary>
    public List<string> Remarks { get; } = [.. readings.Remarks];

    /// <summary>What looks like a mistake.</summary>
    public List<Suspect> Suspects { get; } = [];

    /// <summary>Looks at the readings with every check for mistakes.</summary>
    public void Look(Series series) => Doubt(SeriesChecks.Look(series));

    /// <summary>Takes over doubts, as they are.</summary>
    public void Doubt(IEnumerable<Doubt> doubts) => Suspects.AddRange(doubts.Select(d => new Suspect(d.Row, d.Reason, d.Suggestion) { Called = readings.Rows.FirstOrDefault(row => row.Number == d.Row)?.Called }));

    /// <summary>Whether the result stands on an instrument whose limit enters; kinds without one set this to false.</summary>
    public bool NeedsInstrument { get; init; } = true;

    /// <summary>Whether there is nothing that the result could be judged against: it finds what is to be set.</summary>
    public bool HasNoLimit { get; init; }

    /// <summary>Why no combined uncertainty can be given; null where it can.</summary>
    public string? WhyNone =>
        !NeedsInstrument ? null
        : options.Instrument is null ? "no instrument named"
        : options.Instrument.LimitMm is null ? "the limit of error of the instrument is not known"
        : null;

    /// <summary>Adds a parameter whose uncertainty is made of parts; the first added is the headline.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="unit">Its canonical unit.</param>
    /// <param name="value">Its value.</param>
    /// <param name="parts">The parts; null where not even the scatter is known.</param>
    /// <param name="why">Why there are no parts.</param>
    /// <param name="factor">Coverage factor, where it is agreed and not computed.</param>
    public void Add(string name, string unit, double value, IReadOnlyList<UncertaintyPart>? parts, string? why = null, double? factor = null)
    {
        var spread = parts is null || parts.All(p => p.Uncertainty == 0) ? null : new Spread(parts);
        var reason = spread is null ? why ?? "the scatter of the readings is not known" : WhyNone;
        if (parameters.Count == 0 && reason is null)
            headline = spread;
        if (parameters.Count == 0)
            BudgetParts = parts ?? [];
        var complete = reason is null ? spread : null;
        var expanded = factor is null ? complete?.HalfWidth(options.Coverage) : factor * complete?.Combined;
        parameters.Add(new FittedParameter
        {
            Name = name,
            Unit = unit,
            Value = value,
            FreshUncertainty = spread is { Fresh: > 0 } ? spread.Fresh : null,
            SharedUncertainty = complete?.Shared,
            StandardUncertainty = complete?.Combined,
            DegreesOfFreedom = complete is { } c && double.IsFinite(c.DegreesOfFreedom) ? c.DegreesOfFreedom : null,
            CoverageFactor = expanded / complete?.Combined,
            ExpandedUncertainty = expanded,
            WhyNoUncertainty = reason,
        });
    }

    /// <summary>Adds a parameter without an uncertainty, and why.</summary>
    public void AddBare(string name, string unit, double? value, string why) =>
        parameters.Add(new FittedParameter { Name = name, Unit = unit, Value = value, WhyNoUncertainty = why });

    /// <summary>Adds a parameter that was put together elsewhere.</summary>
    public void Add(FittedParameter parameter) => parameters.Add(parameter);

    /// <summary>
    /// Adds one over an estimate c that is larger than its own half width h. Its interval is that of the estimate turned over, 1 / (c + h) to
    /// 1 / (c - h); with r = h / c and k = 1 / c its arms are k r / (1 + r) and k r / (1 - r), and U is the longer one (own derivation).
    /// </summary>
    /// <param name="name">Its name.</param>
    /// <param name="unit">Its canonical unit.</param>
    /// <param name="estimate">c, positive.</param>
    /// <param name="parts">The parts of c.</param>
    /// <param name="linearised">The same parts as they act on 1 / c to first order: the standard uncertainty.</param>
    public void AddReciprocal(string name, string unit, double estimate, IReadOnlyList<UncertaintyPart> parts, IReadOnlyList<UncertaintyPart>? linearised)
    {
        var r = new Spread(parts).HalfWidth(options.Coverage) / estimate;
        var standard = linearised is null ? 0 : new Spread(linearised).Combined;
        Add(name, unit, 1 / estimate, linearised, LinearResult.NoScatter, standard == 0 ? null : r / (1 - r) / estimate / standard);
        if (parameters[^1].ExpandedUncertainty is not null)
            parameters[^1] = parameters[^1] with { Interval = new Interval(1 / (1 + r) / estimate, 1 / (1 - r) / estimate) };
    }

    /// <summary>Adds a standard deviation: its interval comes from chi-square, U is the longer of its two arms.</summary>
    public void AddDeviation(string name, string unit, double value, double freedom)
    {
        var longer = value * (Math.Sqrt(freedom / ChiSquare.Quantile((1 - options.Coverage) / 2, freedom)) - 1);
        var standard = value / Math.Sqrt(2 * freedom);
        parameters.Add(new FittedParameter
        {
            Name = name,
            Unit = unit,
            Value = value,
            FreshUncertainty = standard,
            SharedUncertainty = WhyNone is null ? 0 : null,
            StandardUncertainty = WhyNone is null ? standard : null,
            DegreesOfFreedom = freedom,
            CoverageFactor = WhyNone is null ? longer / standard : null,
            ExpandedUncertainty = WhyNone is null ? longer : null,
            WhyNoUncertainty = WhyNone,
        });
        BudgetParts = [new UncertaintyPart("number of repeats", standard) { RepeatingHelps = true }];
    }

    /// <summary>The contributions to the headline.</summary>
    public IReadOnlyList<UncertaintyPart> BudgetParts { get; private set; } = [];

    /// <summary>Value of the headline.</summary>
    public double HeadlineValue => parameters[0].Value ?? double.NaN;

    /// <summary>U of the headline; null where there is none.</summary>
    public double? HeadlineExpanded => parameters[0].ExpandedUncertainty;

    /// <summary>Closes the draft: judges the headline and takes the kind's advice for that judgement.</summary>
    /// <param name="lengthMm">Length over which a limit in mm holds, where the headline is a ratio or an angle.</param>
    /// <param name="advise">The kind's advice for a verdict.</param>
    /// <param name="covariance">Covariance of the parameters.</param>
    /// <param name="residuals">Residuals of the used rows.</param>
    /// <param name="scatter">Residual standard deviation.</param>
    /// <param name="judge">Judges the headline against the limit, where the usual three zones do not fit the sort of result.</param>
    public Outcome<Finding> Close(
        double? lengthMm, Func<Judgement, Advice> advise, ImmutableArray<ImmutableArray<double>> covariance = default,
        ImmutableArray<double> residuals = default, double? scatter = null, Func<double?, Judgement>? judge = null)
    {
        var limit = options.Tolerance?.In(parameters[0].Unit, options.TravelMm ?? lengthMm);
        if (limit is Outcome<double>.Bad bad)
            return new Outcome<Finding>.Bad(bad.Problems);
        var against = (limit as Outcome<double>.Good)?.Value;
        var judgement = judge is not null && WhyNone is null
            ? judge(against)
            : Judgement.Of(parameters[0].Value, headline, against, readings.Used.Count(), options.Sequential);
        Remarks.AddRange(BeyondRange());
        if (options.Tolerance is null)
            Remarks.Add(HasNoLimit ? "It has no limit to be judged against: it tells what to set." : "No tolerance was given: the result is not judged against a limit.");
        if (options.Sequential)
            Remarks.Add("The readings were looked at while they came in: the verdict keeps 2.6 standard uncertainties from the limit.");
        if (MostlyFixed)
            Remarks.Add("More than 80 % of the variance does not fall with repeats: more readings will not help, a better reference will.");
        return new Finding
        {
            Kind = kind.Id,
            Method = kind.Method,
            Rows = readings.Rows.Length,
            Used = readings.Used.Count(),
            Parameters = [.. parameters],
            Covariance = covariance.IsDefault ? [] : covariance,
            ResidualStandardDeviation = scatter,
            Residuals = residuals.IsDefault ? [] : residuals,
            Budget = new Spread(BudgetParts).Budget,
            Suspects = [.. Suspects],
            Remarks = [.. Remarks],
            Limit = against,
            LimitOverMm = options.Tolerance?.NeedsLength(parameters[0].Unit) == true ? options.TravelMm ?? lengthMm : null,
            Verdict = judgement.Verdict,
            Advice = WhyNone is { } why ? Nameless(why) : SuspectsFirst(advise(judgement)),
        };
    }

    // A reading that is asked about comes before anything that stands on it: before more readings, a change, or leaving it.
    private Advice SuspectsFirst(Advice advice)
    {
        int[] rows = [.. Suspects.Select(suspect => suspect.Row).Where(row => row > 0).Distinct().Order()];
        if (rows.Length == 0 || advice.StandsWithoutDoubted)
            return advice;
        var (named, one) = (Named(rows), rows.Length == 1);
        var settled = advice.Action is AdviceAction.FindTheFault or AdviceAction.MeasureMore;
        return advice with
        {
            Action = settled ? advice.Action : AdviceAction.MeasureMore,
            Because = settled ? advice.Because : $"{char.ToUpperInvariant(named[0])}{named[1..]} {(one ? "does" : "do")} not fit the others; until that is settled nothing stands on them.",
            Next = $"Look at {named} first: take {(one ? "it" : "them")} again, or leave {(one ? "it" : "them")} out with the reason. What is to be done follows from the rest.",
            Setting = settled ? advice.Setting : null,
            AsksForCheapest = false,
        };
    }

    // The lengths of a file can be looked at only here; typed ones were asked about before.
    private IEnumerable<string> BeyondRange()
    {
        if (options.Instrument is not { RangeMm: { } range } instrument)
            yield break;
        foreach (var column in kind.Columns.Select(column => column.Name).Where(name => WholeLengths.Contains(name) && readings.Has(name)))
        {
            int[] rows = [.. readings.Used
                .Where(row => (row.Instrument is null || row.Instrument == instrument.Name) && row.Maybe(column) is { } length && instrument.IsTooShortFor(length))
                .Select(row => row.Number)];
            if (rows.Length > 0)
                yield return string.Create(CultureInfo.InvariantCulture, $"More than {PlainText.Of(instrument.Name)} can read, {range:0.###} mm: {Named(rows)}. Another instrument read them, or another number was written down.");
        }
    }

    private string Named(int[] rows) => Named(readings, rows);

    /// <summary>Readings by the names of their rows: <c>readings 3, 7 and 9</c>.</summary>
    public static string Named(ReadingTable readings, int[] rows)
    {
        string[] names = [.. rows.Select(row => readings.Rows.FirstOrDefault(one => one.Number == row)?.Called ?? row.ToString(CultureInfo.InvariantCulture))];
        return names.Length == 1
            ? $"reading {names[0]}"
            : $"readings {string.Join(", ", names[..^1].Take(MostNamed))}{(names.Length - 1 > MostNamed ? " …" : "")} and {names[^1]}";
    }

    // The usual line of every budget (common practice, no source).
    private bool MostlyFixed => WhyNone is null && BudgetParts.Sum(p => p.Uncertainty * p.Uncertainty) is > 0 and var total
        && BudgetParts.Where(p => p.Shared).Sum(p => p.Uncertainty * p.Uncertainty) > MostFixed * total;

    private static Advice Nameless(string why) => new()
    {
        Action = AdviceAction.MeasureMore,
        Because = $"{Quantities.Words.Capital(why)}, so nothing can be said about how far the result may be off.",
        Next = "Name the instrument, or give its limit of error and resolution.",
    };
}
