using System.Collections.Immutable;

namespace Commission.Core.Upkeep;

/// <summary>A parameter of a kind of finding that holds a quantity.</summary>
/// <param name="Kind">Id of the kind.</param>
/// <param name="Axis">Axis of the finding; null where the kind looks at the whole plane.</param>
/// <param name="Parameter">Name of the parameter.</param>
public sealed record QuantitySource(string Kind, string? Axis, string Parameter);

/// <summary>A quantity of the X-Y plane that several procedures find.</summary>
/// <param name="Id">Id.</param>
/// <param name="Title">In words.</param>
/// <param name="Unit">Canonical unit.</param>
/// <param name="Item">Id of the work item whose stale rows apply.</param>
/// <param name="Axis">The axis; null for the plane.</param>
/// <param name="Sources">Where it is found.</param>
public sealed record PlaneQuantity(string Id, string Title, string Unit, string Item, string? Axis, ImmutableArray<QuantitySource> Sources)
{
    /// <summary>All of them: scales, squareness, lost motion, error within a turn.</summary>
    public static ImmutableArray<PlaneQuantity> All { get; } =
    [
        Scale("X"), Scale("Y"),
        new("squareness", "squareness of X and Y", "rad", "squareness", null,
            [new("squareness", null, "squareness"), new("square-reversal", null, "squareness"), new("plate", null, "squareness"), new("test-circle", null, "squareness")]),
        Reversal("X"), Reversal("Y"),
        new("periodicX", "error within a turn of X", "mm", "periodic-error", "X", [new("periodic", "X", "amplitude")]),
        new("periodicY", "error within a turn of Y", "mm", "periodic-error", "Y", [new("periodic", "Y", "amplitude")]),
    ];

    private static PlaneQuantity Scale(string axis) => new($"scale{axis}", $"scale of {axis}", "1", "axis-scale", axis,
        [new("axis-scale", axis, "scaleError"), new("plate", null, $"scaleError{axis}"), new("squareness", null, $"scaleError{axis}"), new("test-cut", null, $"scaleError{axis}")]);

    private static PlaneQuantity Reversal(string axis) => new($"reversal{axis}", $"lost motion of {axis}", "mm", "backlash", axis,
        [new("backlash", axis, "reversal"), new("plate", null, $"reversal{axis}"), new("axis-scale", axis, "reversal")]);
}
