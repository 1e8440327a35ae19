namespace Commission.Core.Machines;

/// <summary>The words by which files, questions and conditions name what a machine has. A rename in code changes no file.</summary>
public static class MachineWords
{
    /// <summary>Drives.</summary>
    public static IReadOnlyDictionary<string, DriveKind> Drives { get; } = Table(
        ("screw", DriveKind.Screw), ("belt", DriveKind.Belt), ("rack", DriveKind.Rack), ("unknown", DriveKind.Unknown));

    /// <summary>Yes, no, unknown.</summary>
    public static IReadOnlyDictionary<string, Known> Answers { get; } = Table(("yes", Known.Yes), ("no", Known.No), ("unknown", Known.Unknown));

    /// <summary>Whether a pair of motors has one setting or two.</summary>
    public static IReadOnlyDictionary<string, PairSetting> PairSettings { get; } = Table(
        ("one", PairSetting.One), ("two", PairSetting.Two), ("unknown", PairSetting.Unknown));

    /// <summary>Switches.</summary>
    public static IReadOnlyDictionary<string, Switches> SwitchSets { get; } = Table(
        ("none", Switches.None), ("home", Switches.Home), ("both-ends", Switches.BothEnds), ("unknown", Switches.Unknown));

    /// <summary>Ends of an axis.</summary>
    public static IReadOnlyDictionary<string, HomeEnd> Ends { get; } = Table(("low", HomeEnd.Low), ("high", HomeEnd.High), ("unknown", HomeEnd.Unknown));

    /// <summary>Ways to take up lost motion.</summary>
    public static IReadOnlyDictionary<string, Compensation> Compensations { get; } = Table(
        ("none", Compensation.None), ("mm", Compensation.Millimetres), ("steps", Compensation.Steps), ("unknown", Compensation.Unknown));

    /// <summary>How a controller states the ratio.</summary>
    public static IReadOnlyDictionary<string, RatioSetting> RatioSettings { get; } = Table(
        ("steps-per-mm", RatioSetting.StepsPerMm), ("steps-per-inch", RatioSetting.StepsPerInch), ("mm-per-step", RatioSetting.MmPerStep),
        ("steps-per-turn", RatioSetting.StepsPerTurnAndLead), ("unknown", RatioSetting.Unknown));

    /// <summary>Classes of work.</summary>
    public static IReadOnlyDictionary<string, WorkClass> Classes { get; } = Table(
        ("wood", WorkClass.Wood), ("plastics", WorkClass.Plastics), ("aluminium", WorkClass.Aluminium), ("unknown", WorkClass.Unknown));

    /// <summary>Units of length.</summary>
    public static IReadOnlyDictionary<string, LengthUnit> Units { get; } = Table(("mm", LengthUnit.Millimetre), ("in", LengthUnit.Inch));

    /// <summary>What turns the cutter.</summary>
    public static IReadOnlyDictionary<string, SpindleKind> Spindles { get; } = Table(
        ("router-with-dial", SpindleKind.RouterWithDial), ("spindle", SpindleKind.Spindle), ("none", SpindleKind.None), ("unknown", SpindleKind.Unknown));

    /// <summary>Axes.</summary>
    public static IReadOnlyDictionary<string, AxisName> Axes { get; } = Table(("X", AxisName.X), ("Y", AxisName.Y), ("Z", AxisName.Z));

    /// <summary>The axis that a word of a file names; null where it names none.</summary>
    public static AxisName? Axis(string? word) => word is not null && Axes.TryGetValue(word, out var axis) ? axis : null;

    /// <summary>The axis that somebody typed, in letters of either size; null where it is none.</summary>
    public static AxisName? TypedAxis(string? typed) => Axis(typed?.Trim().ToUpperInvariant());

    /// <summary>The word for a value.</summary>
    public static string Of<T>(IReadOnlyDictionary<string, T> words, T value)
        where T : struct => words.First(pair => EqualityComparer<T>.Default.Equals(pair.Value, value)).Key;

    private static Dictionary<string, T> Table<T>(params (string Word, T Value)[] words) =>
        words.ToDictionary(word => word.Word, word => word.Value, StringComparer.Ordinal);
}
