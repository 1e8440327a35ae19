namespace Commission.Proof.Efficiency;

/// <summary>Places for ten caliper readings of one axis between 4 and 146 mm, 5 mm lead.</summary>
internal static class ScalePlaces
{
    /// <summary>Quarter turns at both ends, alternating sides, and two half a turn apart in the middle.</summary>
    public static IReadOnlyList<(double Mm, int From)> Planned { get; } =
    [
        (4, 1), (142.25, -1), (143.5, 1), (5.25, -1), (75, 1), (77.5, -1), (6.5, 1), (144.75, -1), (146, 1), (7.75, -1),
    ];
}
