using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Machines;
using Commission.Core.Plans;
using Commission.Core.Quantities;

namespace Commission.Workshop.Requests;

/// <summary>The options of a plan as they were typed, made into its question. Every option that cannot be understood is named, not only the first.</summary>
public sealed class PlanOptionsText(CharacteristicKind kind, IReadOnlyDictionary<string, string> typed)
{
    private static readonly int[] Denominators = [2, 4, 8, 16, 32, 64, 128];
    private readonly List<Problem> problems = [];

    /// <summary>The options, by name, in the order of the help.</summary>
    public static ImmutableArray<OptionSpec> Options { get; } =
    [
        new("axis", false, "X, Y or Z"),
        new("travel-mm", false, "Travel of X, Y, Z, mm, separated by commas; where no machine is named"),
        new("steps-per-mm", true, "The ratio in the controller now, steps for one mm"),
        new("lead-mm", true, "Travel for one turn of the drive, mm"),
        new("instrument", false, "Name of an instrument of the store or of the catalogue"),
        new("instrument-limit-mm", true, "Limit of error of the instrument, mm"),
        new("resolution-mm", true, "Last digit of the instrument, mm"),
        new("range-mm", true, "Longest length the instrument reads, mm"),
        new("operator-sd-mm", true, "Standard deviation of one reading by this hand, mm"),
        new("operator-dof", true, "Degrees of freedom of that standard deviation"),
        new("tolerance", false, "The limit with its unit: 300ppm 0.5mm/m 0.1mm 0.004in"),
        new("wanted", false, "U wished for with its unit; half the limit where not told"),
        new("coverage", true, "Coverage probability of U, 0.95 where not told"),
        new("coverage-factor", true, "A coverage factor that is agreed, for example 2"),
        new("window", false, "Part of the travel: middle, low or high"),
        new("obstacle", false, "What cannot be reached: X:100..150, or X:0..60&Y:0..80, or angle:80..100; several separated by ;"),
        new("inch-fraction", true, "Positions only as fractions of an inch with this denominator, for example 64"),
        new("radius-mm", true, "Radius of the sweep, mm (tram)"),
        new("tip-mm", true, "Distance of the tool's tip from the collet, mm (runout)"),
        new("mark-sd-mm", true, "Standard deviation of a mark's place, mm (plate)"),
        new("hole-sd-mm", true, "Standard deviation of a hole's diameter, mm (plate)"),
        new("expected-sd-mm", true, "Scatter expected of the repeats, mm (repeatability)"),
    ];

    private static readonly ImmutableArray<string> Own = ["radius-mm", "tip-mm", "mark-sd-mm", "hole-sd-mm", "expected-sd-mm"];

    /// <summary>The question.</summary>
    /// <param name="machine">The machine; null where none is known: the travel is then an option.</param>
    /// <param name="find">Finds an instrument by name.</param>
    /// <param name="owned">The owner's instruments.</param>
    public Outcome<PlanQuestion> Read(Machine? machine, Func<string, Instrument?> find, ImmutableArray<Instrument> owned)
    {
        var axis = AxisOption.Read(typed, problems);
        var described = Described(machine, axis ?? AxisName.X);
        if (described is null) return new Outcome<PlanQuestion>.Bad([.. problems]);
        var tool = Tool(find);
        var question = new PlanQuestion
        {
            Kind = kind.Id, Machine = described, Axis = axis, Instrument = tool, Hand = Hand(), Owned = owned,
            Limit = Size("tolerance", described, axis), Wanted = Size("wanted", described, axis),
            Coverage = Between("coverage", 0.5, 1) ?? 0.95, CoverageFactor = Positive("coverage-factor"),
            Window = Window(), Obstacles = Obstacles(), InchFraction = Fraction(),
            Numbers = Own.Where(typed.ContainsKey).ToImmutableDictionary(name => name, name => Positive(name) ?? 0),
        };
        return problems.Count > 0 ? new Outcome<PlanQuestion>.Bad([.. problems]) : question;
    }

    private Machine? Described(Machine? machine, AxisName axis)
    {
        if (typed.TryGetValue("travel-mm", out var text))
        {
            var parts = text.Split(',').Select(part => TypedNumber.Read(part, "mm") is NumberReading.Clear clear ? clear.Number.In("mm") : double.NaN).ToArray();
            if (parts.Length != 3 || parts.Any(part => !(part > 0)))
                problems.Add(new Problem($"--travel-mm \"{Words.Clean(text)}\" is not the travel of three axes", "Write three numbers above zero, for example 420,580,90"));
            else machine = (machine ?? new Machine { Name = "as told", TravelMm = [] }) with { TravelMm = [.. parts] };
        }

        if (machine is null)
        {
            if (problems.Count == 0) problems.Add(new Problem("the travel is not known", "Name the machine with --machine, or give --travel-mm 420,580,90"));
            return null;
        }

        var (steps, lead) = (Positive("steps-per-mm"), Positive("lead-mm"));
        return machine.With(axis, machine[axis] with { StepsPerMm = steps ?? machine[axis].StepsPerMm, TravelPerTurnMm = lead ?? machine[axis].TravelPerTurnMm });
    }

    private Instrument? Tool(Func<string, Instrument?> find)
    {
        var (limit, digit, range) = (Positive("instrument-limit-mm"), Positive("resolution-mm"), Positive("range-mm"));
        if (typed.TryGetValue("instrument", out var name))
        {
            if (find(name.Trim()) is { } found)
                return found with { LimitMm = limit ?? found.LimitMm, ResolutionMm = digit ?? found.ResolutionMm, RangeMm = range ?? found.RangeMm };
            problems.Add(new Problem($"no instrument is named \"{Words.Clean(name)}\"", "See instrument list, or give --instrument-limit-mm, --resolution-mm and --range-mm"));
            return null;
        }

        return limit is null && digit is null && range is null ? null : new Instrument("as told", InstrumentKind.Other, limit, digit, range, "told with the request");
    }

    private HandStudy? Hand()
    {
        var (spread, count) = (Positive("operator-sd-mm"), Positive("operator-dof"));
        if (spread is null && count is not null)
            problems.Add(new Problem("degrees of freedom without a standard deviation", "Give --operator-sd-mm too"));
        return spread is { } s ? new HandStudy("as told", "as told", s, count ?? 0) : null;
    }

    private double? Size(string name, Machine machine, AxisName? axis)
    {
        if (!typed.TryGetValue(name, out var text)) return null;
        var size = ToleranceText.Parse(text).Then(limit => limit.In(kind.Parameters[0].Unit, machine.Travel(axis ?? AxisName.X)));
        if (size is Outcome<double>.Bad bad) problems.AddRange(bad.Problems.Select(problem => problem with { What = $"--{name}: {problem.What}" }));
        return size is Outcome<double>.Good good ? good.Value : null;
    }

    private AxisWindow Window()
    {
        if (!typed.TryGetValue("window", out var text)) return AxisWindow.Middle;
        if (Windows.TryGetValue(text.Trim(), out var window)) return window;
        problems.Add(new Problem($"--window \"{Words.Clean(text)}\" is no part of the travel", "Write middle, low or high"));
        return AxisWindow.Middle;
    }

    private static readonly ImmutableDictionary<string, AxisWindow> Windows = new Dictionary<string, AxisWindow>
    {
        ["middle"] = AxisWindow.Middle, ["low"] = AxisWindow.Low, ["high"] = AxisWindow.High,
    }.ToImmutableDictionary(StringComparer.OrdinalIgnoreCase);

    private ImmutableArray<ImmutableArray<PlanObstacle>> Obstacles() => typed.TryGetValue("obstacle", out var text)
        ? [.. text.Split(';', StringSplitOptions.RemoveEmptyEntries).Select(group => group.Split('&').Select(Obstacle).OfType<PlanObstacle>().ToImmutableArray()).Where(group => !group.IsEmpty)]
        : [];

    private PlanObstacle? Obstacle(string text)
    {
        var colon = text.IndexOf(':', StringComparison.Ordinal);
        var dots = text.IndexOf("..", StringComparison.Ordinal);
        if (colon > 0 && dots > colon
            && double.TryParse(text.AsSpan(colon + 1, dots - colon - 1), NumberStyles.Float, CultureInfo.InvariantCulture, out var from)
            && double.TryParse(text.AsSpan(dots + 2), NumberStyles.Float, CultureInfo.InvariantCulture, out var to)
            && Alongs.FirstOrDefault(along => along.Equals(text[..colon].Trim(), StringComparison.OrdinalIgnoreCase)) is { } found && from <= to)
            return new PlanObstacle(found, from, to);
        problems.Add(new Problem($"--obstacle \"{Words.Clean(text)}\" is not understood", "Write X:100..150, X:0..60&Y:0..80 or angle:80..100, with decimal points"));
        return null;
    }

    private static readonly ImmutableArray<string> Alongs = ["X", "Y", "Z", "angle"];

    private int? Fraction()
    {
        if (Positive("inch-fraction") is not { } parts) return null;
        if (Denominators.Any(known => known == parts)) return (int)parts;
        problems.Add(new Problem("--inch-fraction is no usual denominator", "Give one of " + string.Join(", ", Denominators)));
        return null;
    }

    private double? Between(string name, double low, double high)
    {
        if (Positive(name) is not { } value) return null;
        if (value > low && value < high) return value;
        problems.Add(new Problem(string.Create(CultureInfo.InvariantCulture, $"--{name} does not lie between {low} and {high}"), "Give 0.95, for example"));
        return null;
    }

    private double? Positive(string name)
    {
        if (!typed.TryGetValue(name, out var text)) return null;
        var unit = name.EndsWith("-mm", StringComparison.Ordinal) && name != "steps-per-mm" ? "mm" : "1";
        if (TypedNumber.Read(text, unit) is NumberReading.Clear clear && clear.Number.In(unit) > 0) return clear.Number.In(unit);
        problems.Add(new Problem($"--{name} \"{Words.Clean(text)}\" is not a clear number above zero", "Write a number with a decimal point"));
        return null;
    }
}
