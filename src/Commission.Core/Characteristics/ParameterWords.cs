using System.Collections.Immutable;

namespace Commission.Core.Characteristics;

/// <summary>Names of parameters in words, for lists that people read; files and the command line keep the names of the contract.</summary>
public static class ParameterWords
{
    private static readonly ImmutableDictionary<string, string> Words = new Dictionary<string, string>(StringComparer.Ordinal)
    {
        ["scaleErrorGivenGrade"] = "scale error, the grade of the drive counted in", ["zero"] = "reading at commanded 0", ["reversal"] = "lost motion", ["reversalLargest"] = "largest lost motion",
        ["reversalX"] = "lost motion X", ["reversalY"] = "lost motion Y", ["reversalDifference"] = "lost motion of X less that of Y", ["scaleDifference"] = "scale error of X less that of Y",
        ["artefactError"] = "error of the square itself", ["holeDiameter"] = "diameter of the holes", ["cutterRadiusError"] = "error of the cutter's radius", ["tirAtTip"] = "runout at the tip", ["tir"] = "runout",
        ["peakToValley"] = "highest less lowest point about the plane", ["minimumZone"] = "least distance of two planes that hold all points", ["rawRange"] = "highest less lowest point as read",
        ["slopeX"] = "slope towards +X", ["slopeY"] = "slope towards +Y", ["tiltX"] = "tilt towards +X", ["tiltY"] = "tilt towards +Y", ["standardDeviation"] = "standard deviation of one reading",
        ["expandedNext"] = "where the next repeat lies, to either side of the mean", ["limit"] = "highest speed without a loss", ["quantum"] = "travel of four full steps", ["clearance"] = "lost motion without force",
        ["upperRate"] = "upper bound of the rate", ["extraScatter"] = "scatter beyond the results' own U", ["nextCheckDay"] = "day of the next check", ["constant"] = "where every predictor is 0", ["slope"] = "change in a day",
    }.ToImmutableDictionary();

    /// <summary>The name in words; a place or a height stands behind it. What has no words of its own is its name, parted where a capital stands.</summary>
    /// <param name="parameter">Its name, for example <c>tir[45]</c>.</param>
    public static string Of(string parameter)
    {
        if (parameter.StartsWith("iso.", StringComparison.Ordinal))
            return Parted(parameter[4..]) + " of ISO 230-2";
        if (parameter.IndexOf('[', StringComparison.Ordinal) is var at and > 0 && parameter.EndsWith(']'))
            return $"{Of(parameter[..at])} at {parameter[(at + 1)..^1]} mm";
        return Words.GetValueOrDefault(parameter) ?? Parted(parameter);
    }

    /// <summary>A parameter as it is told under its name in words: lost motion is the opposite of the reversal value.</summary>
    public static FittedParameter Told(FittedParameter parameter) => Signs.Of(parameter.Name) > 0 ? parameter : parameter with
    {
        Name = parameter.Name == "reversalDifference" ? parameter.Name : Signs.LostMotion,
        Value = -parameter.Value,
        Interval = parameter.Interval is { } interval ? new Interval(-interval.High, -interval.Low) : null,
    };

    // Capitals at the end name an axis or a symbol of a standard.
    private static string Parted(string name) => string.Concat(name.Select((letter, i) => i > 0 && char.IsUpper(letter) && !char.IsUpper(name[i - 1]) ? i == name.Length - 1 ? " " + letter : " " + char.ToLowerInvariant(letter) : letter.ToString()));
}
