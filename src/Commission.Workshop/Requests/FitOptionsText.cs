using System.Collections.Immutable;
using System.Diagnostics;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Machines;
using Commission.Core.Quantities;

namespace Commission.Workshop.Requests;

/// <summary>Options as they were typed, made into what a fit knows. Every option that cannot be understood is named, not only the first.</summary>
public sealed class FitOptionsText(CharacteristicKind kind, IReadOnlyDictionary<string, string> typed)
{
    private readonly List<Problem> problems = [];

    /// <summary>The options of a fit.</summary>
    /// <param name="machine">The machine, where one is known: fills what was not typed.</param>
    /// <param name="instrument">Finds an instrument by name; null where there is none of that name.</param>
    public Outcome<FitOptions> Read(Machine? machine, Func<string, Instrument?> instrument)
    {
        var axis = AxisOption.Read(typed, problems);
        var described = machine is not null && axis is { } known ? machine[known] : null;
        var (ratio, setting) = Ratio(described);
        var options = new FitOptions
        {
            Axis = axis,
            StepsPerMm = ratio,
            Setting = setting,
            SettingDecimals = described?.SettingDecimals,
            Drive = described?.Drive ?? DriveKind.Unknown,
            TravelPerTurnMm = Positive("travel-per-turn-mm") ?? Positive("lead-mm") ?? described?.TravelPerTurnMm,
            ScrewGrade = Grade() ?? described?.Grade,
            PriorStandardUncertainty = Positive("prior-ppm") * 1e-6,
            Instrument = Instrument(instrument),
            Hand = Hand(),
            TravelMm = Positive("travel-mm"),
            Tolerance = Tolerance(),
            Coverage = Coverage(),
            Sequential = typed.ContainsKey("sequential"),
            TemperaturesC = Temperatures(),
            Numbers = Own(number: true).ToImmutableDictionary(o => o.Name, o => Number(o.Name) ?? 0),
            Words = Own(number: false).ToImmutableDictionary(o => o.Name, o => Words.Clean(typed[o.Name]).Trim()),
        };
        foreach (var missing in kind.Options.Where(o => o.Required && !typed.ContainsKey(o.Name)))
            Refuse($"--{missing.Name} is missing", $"Give it: {missing.Meaning}");
        return problems.Count > 0 ? new Outcome<FitOptions>.Bad([.. problems]) : options;
    }

    private IEnumerable<OptionSpec> Own(bool number) => kind.Options.Where(o => o.IsNumber == number && typed.ContainsKey(o.Name));

    private (double? Ratio, RatioSetting Setting) Ratio(AxisDescription? described)
    {
        var perMm = Positive("steps-per-mm");
        var perInch = Positive("steps-per-inch");
        if (perMm is not null && perInch is not null)
            Refuse("the ratio was given twice", "Give --steps-per-mm or --steps-per-inch, not both");
        if (perInch is not null)
            return (perInch / Inch.Mm, RatioSetting.StepsPerInch);
        return (perMm ?? described?.StepsPerMm, perMm is not null || described is null || described.Setting == RatioSetting.Unknown ? RatioSetting.StepsPerMm : described.Setting);
    }

    private int? Grade()
    {
        if (!typed.ContainsKey("screw-grade") || Number("screw-grade") is not { } grade)
            return null;
        if (ScrewGrades.All.Any(g => g == grade))
            return (int)grade;
        Refuse($"--screw-grade {Words.Clean(typed["screw-grade"])} is not a grade", "Give one of " + string.Join(", ", ScrewGrades.All));
        return null;
    }

    private Instrument? Instrument(Func<string, Instrument?> find)
    {
        var limit = Positive("instrument-limit-mm");
        var resolution = Positive("resolution-mm");
        if (typed.TryGetValue("instrument", out var name))
        {
            if (find(name.Trim()) is not { } found)
            {
                Refuse($"no instrument is named \"{Words.Clean(name)}\"", "See instrument list, or give --instrument-limit-mm and --resolution-mm");
                return null;
            }

            return found with { LimitMm = limit ?? found.LimitMm, ResolutionMm = resolution ?? found.ResolutionMm };
        }

        return limit is null && resolution is null ? null : new Instrument("as told", InstrumentKind.Other, limit, resolution, null, "told with the request");
    }

    private HandStudy? Hand()
    {
        var spread = Positive("operator-sd-mm");
        var count = Positive("operator-dof");
        if (spread is null != count is null)
            Refuse("a hand study has a standard deviation and its degrees of freedom", "Give --operator-sd-mm and --operator-dof together");
        return spread is { } s && count is { } n ? new HandStudy("as told", "as told", s, n) : null;
    }

    private Tolerance? Tolerance() => typed.TryGetValue("tolerance", out var text) ? Kept(ToleranceText.Parse(text), "tolerance") : null;

    private double Coverage()
    {
        var coverage = Positive("coverage") ?? 0.95;
        if (coverage is > 0.5 and < 1)
            return coverage;
        Refuse("--coverage is a probability above 0.5 and below 1", "Give 0.95, for example");
        return 0.95;
    }

    private (double Machine, double Instrument)? Temperatures()
    {
        var machine = Number("machine-temperature-c");
        var instrument = Number("instrument-temperature-c");
        if (machine is null != instrument is null)
            Refuse("one temperature alone corrects nothing", "Give --machine-temperature-c and --instrument-temperature-c together");
        return machine is { } m && instrument is { } i ? (m, i) : null;
    }

    private double? Positive(string name)
    {
        var value = Number(name);
        if (value is null or > 0)
            return value;
        Refuse($"--{name} {Words.Clean(typed[name])} is not above zero", "Give a positive number");
        return null;
    }

    private double? Number(string name)
    {
        if (!typed.TryGetValue(name, out var text))
            return null;
        switch (TypedNumber.Read(text, UnitOf(name)))
        {
            case NumberReading.Clear clear:
                return clear.Number.In(UnitOf(name));
            case NumberReading.Ambiguous:
                Refuse($"--{name} {Words.Clean(text)} has two meanings", "Write it with a decimal point, or without the comma");
                return null;
            case NumberReading.NotANumber bad:
                Refuse($"--{name}: {bad.Problem.What}", bad.Problem.Remedy);
                return null;
            default:
                throw new UnreachableException();
        }
    }

    private static string UnitOf(string name) =>
        name.EndsWith("-mm", StringComparison.Ordinal) && name != "steps-per-mm" ? "mm"
        : name.EndsWith("-deg", StringComparison.Ordinal) ? "deg"
        : "1";

    private T? Kept<T>(Outcome<T> outcome, string name) where T : class
    {
        switch (outcome)
        {
            case Outcome<T>.Good good:
                return good.Value;
            case Outcome<T>.Bad bad:
                problems.AddRange(bad.Problems.Select(p => p with { What = $"--{name}: {p.What}" }));
                return null;
            default:
                throw new UnreachableException();
        }
    }

    private void Refuse(string what, string remedy) => problems.Add(new Problem(what, remedy));
}
