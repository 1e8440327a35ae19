using System.Collections.Immutable;
using Commission.Core.Instruments;
using Commission.Core.Machines;
using Commission.Core.Readings;

namespace Commission.Core.Characteristics;

/// <summary>A limit with the unit it was given in.</summary>
/// <param name="Value">The limit, positive, in the unit of the headline parameter (mm, rad or 1) once converted.</param>
/// <param name="Unit">Canonical unit: <c>mm</c>, <c>rad</c>, <c>1</c>, <c>1/h</c> …</param>
/// <param name="Typed">As it was typed, for example <c>300ppm</c>.</param>
public sealed record Tolerance(double Value, string Unit, string Typed)
{
    /// <summary>Who gave it; null for one that was kept before that was written down.</summary>
    public LimitFrom? From { get; init; }
}

/// <summary>Who gave a limit.</summary>
public enum LimitFrom
{
    /// <summary>Whoever asked for the result.</summary>
    Request,

    /// <summary>The procedure that measured it.</summary>
    Procedure,

    /// <summary>The class of work.</summary>
    Class,
}

/// <summary>What a fit may know besides the readings. Everything may be missing.</summary>
public sealed record FitOptions
{
    /// <summary>The axis.</summary>
    public AxisName? Axis { get; init; }

    /// <summary>The ratio in the controller now, steps for one millimetre.</summary>
    public double? StepsPerMm { get; init; }

    /// <summary>How the controller states the ratio; steps per mm where not told.</summary>
    public RatioSetting Setting { get; init; } = RatioSetting.StepsPerMm;

    /// <summary>Decimals the controller keeps; three where not told.</summary>
    public int? SettingDecimals { get; init; }

    /// <summary>What turns a motor's turn into travel.</summary>
    public DriveKind Drive { get; init; }

    /// <summary>Travel per turn, mm.</summary>
    public double? TravelPerTurnMm { get; init; }

    /// <summary>Grade of the screw.</summary>
    public int? ScrewGrade { get; init; }

    /// <summary>Standard uncertainty of a prior on the scale error of the drive, as a ratio (1e-6 = 1 ppm); overrides the drive's own.</summary>
    public double? PriorStandardUncertainty { get; init; }

    /// <summary>The instrument; null where none was named.</summary>
    public Instrument? Instrument { get; init; }

    /// <summary>The operator's hand with that instrument.</summary>
    public HandStudy? Hand { get; init; }

    /// <summary>Length a job uses, mm; default the longest commanded position.</summary>
    public double? TravelMm { get; init; }

    /// <summary>The limit.</summary>
    public Tolerance? Tolerance { get; init; }

    /// <summary>Coverage probability of U.</summary>
    public double Coverage { get; init; } = 0.95;

    /// <summary>Whether the readings were looked at while they came in: then the limit of 2.6 standard uncertainties holds (own simulation).</summary>
    public bool Sequential { get; init; }

    /// <summary>Temperatures of machine and instrument, degrees C, where given.</summary>
    public (double Machine, double Instrument)? TemperaturesC { get; init; }

    /// <summary>Earlier results for the same quantity with other instruments, still standing.</summary>
    public ImmutableArray<IndependentResult> Others { get; init; } = [];

    /// <summary>Options of single kinds by name, numbers in canonical units (for example <c>radius-mm</c>).</summary>
    public ImmutableDictionary<string, double> Numbers { get; init; } = ImmutableDictionary<string, double>.Empty;

    /// <summary>A number of a single kind; null where it was not told.</summary>
    public double? Number(string name) => Numbers.TryGetValue(name, out var value) ? value : null;

    /// <summary>Options of single kinds by name, words.</summary>
    public ImmutableDictionary<string, string> Words { get; init; } = ImmutableDictionary<string, string>.Empty;
}

/// <summary>An option of one kind, beyond those that all share.</summary>
/// <param name="Name">Name without the dashes, for example <c>radius-mm</c>.</param>
/// <param name="IsNumber">Whether it takes a number.</param>
/// <param name="Meaning">One line for the help.</param>
/// <param name="Required">Whether the fit is refused without it.</param>
public sealed record OptionSpec(string Name, bool IsNumber, string Meaning, bool Required = false)
{
    /// <summary>Whether it stands alone, without a value; where given it appears among the words as <c>yes</c>.</summary>
    public bool IsFlag { get; init; }
}

/// <summary>A parameter that a kind may give.</summary>
/// <param name="Name">Name as in the contract; <c>[PLACE]</c> and the like stand for families.</param>
/// <param name="Unit">Canonical unit.</param>
/// <param name="Meaning">One line for the handbook, with the sign.</param>
public sealed record ParameterSpec(string Name, string Unit, string Meaning)
{
    /// <summary>Whether it is the size of something: told without a plus.</summary>
    public bool IsSize { get; init; }

    /// <summary>Whether it says all it can without a U: a bound, or a rung of a ladder.</summary>
    public bool IsBound { get; init; }
}

/// <summary>A published case that a kind must reproduce; carried in the program for <c>prove</c>.</summary>
/// <param name="Source">Author, title, edition, place.</param>
/// <param name="Quantity">What is compared.</param>
/// <param name="Published">The published digits, as printed.</param>
/// <param name="LeastDigits">Digits that must agree.</param>
/// <param name="Compute">Computes the value with the program's own methods.</param>
public sealed record PublishedCase(string Source, string Quantity, string Published, double LeastDigits, Func<double> Compute);

/// <summary>The one declaration of a kind of characteristic: command line, checker, schema, <c>prove</c>, reports and screens derive from it.</summary>
public abstract class CharacteristicKind
{
    /// <summary>Id, as typed after <c>fit</c>.</summary>
    public abstract string Id { get; }

    /// <summary>Name in running text, for example <c>axis scale</c>.</summary>
    public abstract string Title { get; }

    /// <summary>Shortest name, where room is scarce, for example <c>scale</c>.</summary>
    public string Called => ResultName.Of(Id);

    /// <summary>Method and version; changes whenever a computed number does.</summary>
    public abstract string Method { get; }

    /// <summary>The columns it reads.</summary>
    public abstract ImmutableArray<ColumnSpec> Columns { get; }

    /// <summary>Its own options.</summary>
    public virtual ImmutableArray<OptionSpec> Options => [];

    /// <summary>Its parameters; the first is the headline.</summary>
    public abstract ImmutableArray<ParameterSpec> Parameters { get; }

    /// <summary>Published cases it reproduces.</summary>
    public virtual ImmutableArray<PublishedCase> PublishedCases => [];

    /// <summary>Why it carries no published case; null where it carries some.</summary>
    public virtual string? WhyNoPublishedCase => null;

    /// <summary>File name of its page in the handbook.</summary>
    public virtual string HandbookPage => Id + ".md";

    /// <summary>Whether its headline is the scatter of an operator's hand, to be kept as a study and pooled into later fits.</summary>
    public virtual bool IsHandStudy => false;

    /// <summary>Length in mm over which a headline that is the size of an angle is shown as a rise; null where it is shown as it is, with its sign.</summary>
    public virtual double? ShownOverMm => null;

    /// <summary>Evaluates readings.</summary>
    /// <returns>A finding, or every problem that stands in its way.</returns>
    public abstract Outcome<Finding> Evaluate(ReadingTable readings, FitOptions options);

    /// <summary>The picture of a finding; null where the kind has none.</summary>
    public virtual Figure? Picture(Finding finding, ReadingTable readings) => null;

    /// <summary>Why it has no picture; null where it has one.</summary>
    public virtual string? WhyNoPicture => null;
}
