namespace Commission.Core.Characteristics;

/// <summary>
/// The plane of the angle that a square shows: XY, or upright, XZ or YZ, where it stands on the bed. What is done about an angle, and how
/// large it may be, depends on it.
/// </summary>
public static class SquarePlane
{
    /// <summary>Name of the option that tells it.</summary>
    public const string Option = "plane";

    /// <summary>The planes; the first holds where none is told.</summary>
    public static IReadOnlyList<string> All { get; } = ["XY", "XZ", "YZ"];

    /// <summary>Whether a place, or a plane, is one in which Z stands on the bed.</summary>
    public static bool IsUpright(string? place) => place is "XZ" or "YZ";

    /// <summary>The options of an evaluation whose place in a procedure names an upright plane, with that plane told.</summary>
    /// <param name="options">The options.</param>
    /// <param name="kind">The kind that evaluates.</param>
    /// <param name="place">Place in the key of the result.</param>
    public static FitOptions At(this FitOptions options, CharacteristicKind? kind, string? place) =>
        IsUpright(place) && kind?.Options.Any(option => option.Name == Option) == true && !options.Words.ContainsKey(Option)
            ? options with { Words = options.Words.SetItem(Option, place!) }
            : options;

    /// <summary>The plane that the options tell; null for that of X and Y, or where they tell none.</summary>
    public static string? Upright(FitOptions options) =>
        options.Words.TryGetValue(Option, out var told) && told.ToUpperInvariant() is var plane && IsUpright(plane) ? plane : null;
}
