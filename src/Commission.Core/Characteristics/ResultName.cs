using System.Collections.Immutable;

namespace Commission.Core.Characteristics;

/// <summary>What a result is called in a few letters, on the bench, on its finding, in the log and over time: one name everywhere.</summary>
public static class ResultName
{
    private const string Square = "squareness XY";

    // Ids of kinds, of items of the work and of procedures; where they differ the result is the same.
    private static readonly ImmutableDictionary<string, string> Known = new Dictionary<string, string>
    {
        ["axis-scale"] = "scale", ["backlash"] = "lost motion", ["bed-map"] = "bed map", ["flatness"] = "bed map", ["z-square"] = "Z to bed", ["square-reversal"] = Square, ["squareness"] = Square, ["repeatability"] = "homing", ["event-rate"] = "false trips",
        ["noise"] = "false trips", ["electrical"] = "power-up list", ["ratio-check"] = "ratio", ["nominal-steps"] = "steps", ["first-power-up"] = "first power-up", ["first-moves"] = "first moves", ["gauge-study"] = "hand study",
        ["periodic"] = "periodic error",
    }.ToImmutableDictionary(StringComparer.Ordinal);

    /// <summary>The name of what a kind, an item of the work or a procedure finds, without its axis.</summary>
    /// <param name="id">The id.</param>
    public static string Of(string id) => Known.GetValueOrDefault(id) ?? id.Replace('-', ' ');

    /// <summary>The name of what a kind found at a place: an angle in an upright plane is that of Z to the bed.</summary>
    /// <param name="kind">Id of the kind.</param>
    /// <param name="axis">The axis; null for the whole machine.</param>
    /// <param name="place">The place; null where there is only one.</param>
    public static string Of(string kind, string? axis, string? place)
    {
        var name = Of(SquarePlane.IsUpright(place) ? "z-square" : kind);
        return name + (axis is null ? "" : " " + axis) + (place is null || place == name ? "" : ", " + place);
    }
}
