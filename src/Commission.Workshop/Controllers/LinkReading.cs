using System.Globalization;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;

namespace Commission.Workshop.Controllers;

/// <summary>When a reading counts over a link, the same in plain mode and on the screens: at rest, where the machine was brought, its position trusted since.</summary>
public static class LinkReading
{
    /// <summary>Why no reading may be accepted now; null where one may.</summary>
    /// <param name="gate">The gate.</param>
    /// <param name="moved">Whether the reading's place was reached by moves over the link.</param>
    /// <param name="broughtAt"><see cref="Gate.Losses"/> when the machine came to rest there; null where it was not brought.</param>
    public static string? WhyNot(Gate gate, bool moved, int? broughtAt)
    {
        if (!gate.AcceptsReadings)
            return gate.Trouble ?? (gate.State == TrustState.Shut && !gate.Facts.MissingChecks.IsEmpty
                ? "over the link these checks are to be passed first: " + string.Join(", ", gate.Facts.MissingChecks)
                : gate.Report is null || gate.Now - gate.ReportAt > MotionTable.AnswerLasts ? MotionRules.Unheard
                : gate.State == TrustState.Shut && MotionRules.NotOurs(gate) is { } job ? job
                : string.Create(CultureInfo.InvariantCulture, $"the link is {gate.State.ToString().ToLowerInvariant()} and the controller {StateWord(gate)}"));
        return moved && !(broughtAt == gate.Losses && gate.State is TrustState.Homed or TrustState.Placed)
            ? "the position was lost since the machine was brought here" : null;
    }

    /// <summary>Where the controller says that the axis was commanded to, mm in the travel, where its display tells it apart from the plan; else null.</summary>
    public static double? CommandedInstead(Gate gate, AxisName axis, double plannedMm) =>
        gate.InTravel is { } place && Math.Abs(place[axis] - plannedMm) > Resolution(gate) ? Math.Round(place[axis], gate.Dialect.Status.Decimals) : null;

    /// <summary>The last decimal of the controller's display, mm.</summary>
    public static double Resolution(Gate gate) => Math.Pow(10, -gate.Dialect.Status.Decimals);

    private static string StateWord(Gate gate) => gate.Report?.State switch
    {
        ControllerState.Resting => "rests",
        ControllerState.Moving => "moves",
        ControllerState.Held => "is held",
        ControllerState.Locked => "is locked",
        _ => "does not tell its state",
    };
}
