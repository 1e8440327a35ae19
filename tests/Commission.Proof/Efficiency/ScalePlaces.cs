using Commission.Practice.Draws;

namespace Commission.Proof.Efficiency;

/// <summary>Places for ten caliper readings of one axis between 4 and 146 mm, 5 mm lead.</summary>
internal static class ScalePlaces
{
    /// <summary>Quarter turns at both ends, alternating sides, and two half a turn apart in the middle.</summary>
    public static IReadOnlyList<(double Mm, int From)> Planned { get; } =
    [
        (4, 1), (142.25, -1), (143.5, 1), (5.25, -1), (75, 1), (77.5, -1), (6.5, 1), (144.75, -1), (146, 1), (7.75, -1),
    ];

    /// <summary>Ten places evenly spaced, sides alternating.</summary>
    public static IReadOnlyList<(double Mm, int From)> Even { get; } =
        [.. Enumerable.Range(0, 10).Select(i => (4 + (142.0 * i / 9), i % 2 == 0 ? 1 : -1))];

    /// <summary>Random places under the same demands: two in the middle third to see curvature, both sides five times, no place twice.</summary>
    public static IReadOnlyList<(double Mm, int From)> Random(DrawSource source) =>
        [.. Enumerable.Range(0, 10).Select(i => (i < 2 ? source.NextUniform(51, 99) : source.NextUniform(4, 146), i % 2 == 0 ? 1 : -1))];
}
