using System.Collections.Immutable;

namespace Commission.Core.Procedures;

/// <summary>The order of work over all procedures that ship: what later results rest on comes first (common practice, no source).</summary>
public static class OrderOfWork
{
    /// <summary>Ids in order.</summary>
    public static ImmutableArray<string> Ids { get; } =
    [
        "first-power-up", "readiness", "first-moves", "nominal-steps", "ratio-check", "switch-logic", "homing", "speed-ladder", "gauge-study", "frame-twist", "rails", "reference-corner",
        "backlash", "stiffness", "axis-scale", "periodic-error", "diagonals", "distance-network", "plate", "square-reversal", "home-offset", "tram",
        "bed-map", "surfacing", "z-square", "z-axis", "runout", "insert-grid", "test-cut", "speed-under-load", "noise", "recheck", "yearly-check",
    ];

    /// <summary>Place in the order, from 0; those of the owner's own folder come after all that ship.</summary>
    public static int Place(string id) => Ids.IndexOf(id) is var at and >= 0 ? at : Ids.Length;
}
