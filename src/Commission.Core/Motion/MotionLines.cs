using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Machines.Dialects;

namespace Commission.Core.Motion;

/// <summary>Puts a confirmed move into the words of a dialect.</summary>
public static class MotionLines
{
    /// <summary>The lines of one relative move, in order.</summary>
    public static ImmutableArray<string> Of(Dialect dialect, PlannedMove move) =>
    [
        .. dialect.Motion.Move.Select(line => line
            .Replace("{axis}", move.Axis.ToString(), StringComparison.Ordinal)
            .Replace("{distance}", move.DistanceMm.ToString("0.#####", CultureInfo.InvariantCulture), StringComparison.Ordinal)
            .Replace("{speed}", move.SpeedMmPerMin.ToString("0.##", CultureInfo.InvariantCulture), StringComparison.Ordinal)),
    ];
}
