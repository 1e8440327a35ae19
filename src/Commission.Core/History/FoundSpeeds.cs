using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.Machines;

namespace Commission.Core.History;

/// <summary>How fast each axis was found to run without losing steps.</summary>
public static class FoundSpeeds
{
    private const string Ladder = "speed-ladder";

    /// <summary>The greatest speed that the newest ladder of each axis allows, mm/min; an axis without a limit is left out. A ladder that grew old still warns.</summary>
    /// <param name="ledger">The journal.</param>
    /// <param name="machine">The machine.</param>
    public static ImmutableDictionary<AxisName, double> Of(Ledger ledger, string machine) => ledger.FindingsInForce(machine).Select(finding => finding.Made.Body)
        .Where(made => made.Characteristic == Ladder)
        .Select(made => (Axis: MachineWords.Axis(made.Axis), made.Finding.Parameter("limit")?.Value))
        .Where(found => found is { Axis: not null, Value: > 0 })
        .GroupBy(found => found.Axis!.Value).ToImmutableDictionary(group => group.Key, group => group.Min(found => SpeedLadder.Allowed(found.Value!.Value)));
}
