using System.Collections.Immutable;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;

namespace Commission.Core.Motion;

/// <summary>What a controller said of itself in one answer.</summary>
/// <param name="State">Its state in our words.</param>
/// <param name="Shown">The position it shows, mm; a commanded value, never a measurement; null where it told none.</param>
/// <param name="Pressed">Axes whose switch is pressed.</param>
/// <param name="Alarm">Code of the lock or alarm; null where there is none.</param>
public sealed record StateReport(ControllerState State, MachinePosition? Shown, ImmutableHashSet<AxisName> Pressed, string? Alarm = null)
{
    /// <summary>A report without pressed switches.</summary>
    public static StateReport Of(ControllerState state, MachinePosition? shown = null, string? alarm = null) => new(state, shown, [], alarm);
}
