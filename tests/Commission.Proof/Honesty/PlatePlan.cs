using System.Collections.Immutable;
using Commission.Practice.Bench;

namespace Commission.Proof.Honesty;

/// <summary>The plate of eight marks for a caliper of 150 mm; other calipers scale it.</summary>
internal static class PlatePlan
{
    private static readonly (double X, double Y, string Approach)[] _marks =
    [
        (18, 29, "++"), (36, 8, "-+"), (142, 16, "--"), (172, 33, "+-"), (188, 142, "++"), (98, 119, "-+"), (75, 125, "--"), (9, 142, "+-"),
    ];

    private static readonly (int From, int To)[] _pairs =
    [
        (1, 3), (1, 7), (1, 8), (2, 4), (2, 6), (2, 8), (3, 5), (3, 7), (4, 5), (4, 6), (5, 7), (6, 8),
    ];

    /// <summary>Every pair outside and inside.</summary>
    /// <param name="scale">1 for a caliper of 150 mm, else (range - 10) / 140.</param>
    public static ImmutableArray<Cell> Cells(double scale) =>
        [.. from pair in _pairs from edges in new[] { "outer", "inner" } select Cell(_marks[pair.From - 1], _marks[pair.To - 1], edges, scale)];

    private static Cell Cell((double X, double Y, string Approach) from, (double X, double Y, string Approach) to, string edges, double scale) =>
        new("plate", null,
            new Dictionary<string, double>
            {
                ["x1_mm"] = from.X * scale, ["y1_mm"] = from.Y * scale, ["x2_mm"] = to.X * scale, ["y2_mm"] = to.Y * scale,
            },
            new Dictionary<string, string> { ["approach1"] = from.Approach, ["approach2"] = to.Approach, ["edges"] = edges });
}
