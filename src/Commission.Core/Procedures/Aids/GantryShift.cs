using System.Collections.Immutable;
using Commission.Core.Machines;
using static System.FormattableString;

namespace Commission.Core.Procedures.Aids;

/// <summary>By how much and which way one end of a gantry with two motors is moved to make it square, said as somebody does it.</summary>
/// <remarks>The end on the + side of the beam is ahead by W tan g; W is the distance between the two drives (own derivation).</remarks>
internal static class GantryShift
{
    public static ImmutableArray<DataParameter> Parameters { get; } =
    [
        new("squareness", "squareness, mm per m, positive below 90 degrees"), new("squareness-u", "its expanded uncertainty, mm per m"),
        new("redraw-mm", "standard deviation of one homing at one end, mm; 0 where unknown"),
    ];

    public static Outcome<ImmutableArray<WorkData>> Make(DataRequest request)
    {
        if (request.Machine.DriveWidthMm is not { } width) return new Problem("the distance between the two drives is not known", "Answer the step that asks for it first");
        return request.Needed("squareness", -50, 50).Then(angle => request.Needed("squareness-u", 0, 50).Then<ImmutableArray<WorkData>>(uncertainty =>
        {
            var (shift, half) = (width * Math.Tan(angle / 1000), width * uncertainty / 1000);

            // Each homing draws both ends anew: the angle then scatters by sqrt 2 times the scatter of one end over the width.
            var redraw = request.Number("redraw-mm") is > 0 and var one ? 2 * Math.Sqrt(2) * one : 0;
            return ImmutableArray.Create(new WorkData("gantry-shift.txt", "What to move.", [.. Lines(request.Machine, shift, half, redraw)]));
        }));
    }

    private static IEnumerable<string> Lines(Machine machine, double shift, double uncertainty, double redraw)
    {
        var reach = Math.Max(uncertainty, redraw);
        yield return Invariant($"The angle asks for {Math.Abs(shift):0.00} mm with U {uncertainty:0.00} mm (k = 2, the reading of the angle). Homing moves the two ends against each other by up to {redraw:0.00} mm each time (two standard deviations).");
        if (Math.Abs(shift) <= reach)
        {
            yield return redraw > uncertainty
                ? "Move nothing: every homing draws the angle anew by as much. Better switches or hard stops come first."
                : "Move nothing: what was measured is no more than its uncertainty.";
            yield break;
        }

        yield return machine.GantryAxis == AxisName.X
            ? Invariant($"Move the far switch {Math.Abs(shift):0.0} mm {(shift > 0 ? "to the left" : "to the right")}, or its offset in the controller by as much.")
            : Invariant($"Move the right-hand switch {Math.Abs(shift):0.0} mm {(shift > 0 ? "towards the operator" : "away from the operator")}, or its offset in the controller by as much.");
    }
}
