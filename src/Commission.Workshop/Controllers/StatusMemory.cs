using System.Collections.Immutable;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;

namespace Commission.Workshop.Controllers;

/// <summary>Puts together what single answers tell: state, position, switches, alarm. Needed because no answer tells all of it.</summary>
internal sealed class StatusMemory
{
    // Time a position must have stood still before it counts as rest, where the dialect has no word for rest.
    private static readonly TimeSpan Settles = TimeSpan.FromSeconds(0.25);

    private MachinePosition? offset;
    private MachinePosition? shown;
    private TimeSpan stillSince;
    private ImmutableHashSet<AxisName> pressed = [];
    private string? alarm;

    /// <summary>Instant before which a move sent by us cannot have ended, where the dialect has no word for rest.</summary>
    public TimeSpan BusyUntil { get; set; }

    /// <summary>The controller restarted: what was known is old.</summary>
    public void Forget() => (offset, shown, alarm, pressed) = (null, null, null, []);

    /// <summary>An alarm came.</summary>
    public StateReport After(Answer.Alarm told)
    {
        alarm = told.Code;
        return new(ControllerState.Locked, shown, pressed, alarm);
    }

    /// <summary>A switch was told.</summary>
    public void After(Answer.Switch told) => pressed = told.Pressed ? pressed.Add(told.Axis) : pressed.Remove(told.Axis);

    /// <summary>A state was told.</summary>
    public StateReport After(Answer.Status told, TimeSpan at)
    {
        offset = told.Offset ?? offset;
        pressed = told.Pressed ?? pressed;
        var position = told.Machine ?? (told.Work is { } work && offset is { } difference ? work.Plus(difference) : null);
        if (position != shown)
            stillSince = at;
        var state = told.State ?? (at >= BusyUntil && at - stillSince >= Settles ? ControllerState.Resting : ControllerState.Moving);
        shown = position;
        if (state != ControllerState.Locked)
            alarm = null;
        return new(state, shown, pressed, state == ControllerState.Locked ? alarm ?? told.Code : null);
    }
}
