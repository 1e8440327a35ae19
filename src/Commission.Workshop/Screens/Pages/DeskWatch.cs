using Commission.Core.Machines;
using Commission.Core.Motion;
using Commission.Workshop.Controllers;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Screens.Pages;

/// <summary>What a session on the screens must know of the link; its moves are asked for by the page of the work, each in its own box.</summary>
/// <param name="link">The desk's end of the link, open or closed by now.</param>
public sealed class DeskWatch(DeskLink link) : IPositionWatch
{
    private (DateTimeOffset? Opened, int Losses)? _brought;

    /// <summary>The moves of a reading's place have ended: as long as trust is not lost the machine stands there.</summary>
    public void Brought() => _brought = Now is { } gate ? (link.OpenedAt, gate.Losses) : null;

    /// <inheritdoc/>
    public string? WhyNoReading(bool moved) => Now is not { } gate
        ? "the link is closed"
        : LinkReading.WhyNot(gate, moved, _brought is { } at && at.Opened == link.OpenedAt ? at.Losses : null);

    /// <inheritdoc/>
    public double? CommandedInstead(AxisName axis, double plannedMm) => Now is { } gate ? LinkReading.CommandedInstead(gate, axis, plannedMm) : null;

    /// <inheritdoc/>
    public void PowerChanged(bool drivesOn) => link.LoseTrust(drivesOn ? "the drives were switched on" : "the drives were switched off");

    private Gate? Now => link.Now?.Gate;
}
