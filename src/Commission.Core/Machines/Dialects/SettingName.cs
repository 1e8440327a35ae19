namespace Commission.Core.Machines.Dialects;

/// <summary>Names of settings in the trade's words: dialects, journal and answers of commands keep the name, people read the words.</summary>
public static class SettingName
{
    private static readonly Dictionary<string, string> Words = new(StringComparer.Ordinal)
    {
        [ControllerRatio.PerMm] = "steps per mm", [ControllerRatio.PerInch] = "steps per inch", [ControllerRatio.MmPerStep] = "mm per step", [ControllerRatio.PerTurn] = "steps per turn",
        ["greatestRate"] = "fastest feed", ["acceleration"] = "acceleration", ["travel"] = "travel", ["directionMask"] = "directions", ["pullOff"] = "pull-off", ["hardLimits"] = "hard limits",
        ["softLimits"] = "soft limits", ["homing"] = "homing on", ["homingDirectionMask"] = "homing ends", ["homingFeed"] = "homing slow", ["homingSeek"] = "homing fast", ["idleDelay"] = "idle delay",
        ["enableInvert"] = "enable signal", ["switchInvert"] = "switch signal", ["homeOffset"] = "home offset", ["compensationMm"] = "compensation of lost motion",
    };

    /// <summary>A name in words: <c>steps per mm</c>; a name of somebody's own dialect that has no words here stays as it is.</summary>
    /// <param name="name">Name of the setting, as dialects write it.</param>
    public static string InWords(string name) => Words.GetValueOrDefault(name, name);

    /// <summary>A setting with its axis: <c>steps per mm, Y</c>.</summary>
    /// <param name="name">Name of the setting, as dialects write it.</param>
    /// <param name="axis">Its axis; null where it has none.</param>
    public static string InWords(string name, string? axis) => axis is null ? InWords(name) : $"{InWords(name)}, {axis}";

    /// <summary>A setting as it was saved, name and axis with a blank between: <c>stepsPerMm Y</c> is <c>steps per mm, Y</c>.</summary>
    /// <param name="saved">Name and axis; null where the dialect does not name the setting.</param>
    public static string OfSaved(string? saved) => saved is null ? "" : saved.LastIndexOf(' ') is var blank and > 0 ? InWords(saved[..blank], saved[(blank + 1)..]) : InWords(saved);
}
