using Commission.Core.Machines;

namespace Commission.Practice.Controller;

/// <summary>The axes behind the simulated controller: where they are, where they are going. Positions in the travel, mm from the low end.</summary>
public sealed class ControllerBody
{
    private readonly double[] travel;
    private readonly double[] at;
    private readonly double[] zero = new double[3];
    private readonly int[] from = [1, 1, 1];
    private readonly Queue<(AxisName Axis, double Target, double SpeedMmPerS)> queue = new();

    /// <param name="travelMm">Travel of X, Y, Z, mm.</param>
    /// <param name="startMm">Where the axes stand when the power comes, mm from the low end.</param>
    public ControllerBody(IReadOnlyList<double> travelMm, IReadOnlyList<double> startMm)
    {
        travel = [.. travelMm];
        at = [.. startMm];
        // At power-up a controller shows zero, wherever the machine stands.
        startMm.ToArray().CopyTo(zero, 0);
    }

    /// <summary>Distance from the switch at which homing ends, mm.</summary>
    public double PullOffMm { get; init; } = 1;

    /// <summary>Whether the axes have switches.</summary>
    public bool Switched { get; init; } = true;

    /// <summary>Axes whose switch stands at the low end; the others have it at the high end.</summary>
    public IReadOnlySet<AxisName> HomesLow { get; init; } = new HashSet<AxisName>();

    /// <summary>Sense in which an axis moved last: +1 or -1. It decides which flank of a nut carries.</summary>
    public int LastSense(AxisName axis) => from[(int)axis];

    /// <summary>Whether anything is moving or about to.</summary>
    public bool Moving => queue.Count > 0;

    /// <summary>Where an axis is in the travel, mm from the low end.</summary>
    public double InTravel(AxisName axis) => at[(int)axis];

    /// <summary>What the controller shows, mm.</summary>
    public double Shown(AxisName axis) => at[(int)axis] - zero[(int)axis];

    /// <summary>Whether the switch is pressed.</summary>
    public bool Pressed(AxisName axis) => Switched && (HomesLow.Contains(axis) ? at[(int)axis] < PullOffMm / 2 : at[(int)axis] > travel[(int)axis] - PullOffMm / 2);

    /// <summary>Queues a relative move.</summary>
    public void Go(AxisName axis, double distanceMm, double speedMmPerS)
    {
        var from = queue.Where(move => move.Axis == axis).Select(move => (double?)move.Target).LastOrDefault() ?? at[(int)axis];
        queue.Enqueue((axis, from + distanceMm, speedMmPerS));
    }

    /// <summary>Queues the seeking of the switch and the way back off it.</summary>
    public void Seek(AxisName axis, double speedMmPerS)
    {
        var low = HomesLow.Contains(axis);
        queue.Enqueue((axis, low ? 0 : travel[(int)axis], speedMmPerS));
        queue.Enqueue((axis, low ? PullOffMm : travel[(int)axis] - PullOffMm, speedMmPerS / 4));
    }

    /// <summary>Calls the place where the axis stands its home.</summary>
    public void Zero(AxisName axis) => zero[(int)axis] = at[(int)axis] + (HomesLow.Contains(axis) ? -PullOffMm : PullOffMm);

    /// <summary>Ends all motion where it is.</summary>
    public void Halt() => queue.Clear();

    /// <summary>Moves what is shown without moving the machine.</summary>
    public void ShiftShown(double mm) => zero[0] -= mm;

    /// <summary>Moves the machine without moving what is shown, as far as its travel goes: an axis sinks, or somebody pushes it.</summary>
    public void Slip(AxisName axis, double mm)
    {
        var before = at[(int)axis];
        at[(int)axis] = Math.Clamp(before + mm, 0, travel[(int)axis]);
        zero[(int)axis] += at[(int)axis] - before;
    }

    /// <summary>Lets time pass.</summary>
    /// <returns>Whether an axis ran against the end of its travel.</returns>
    public bool Advance(double seconds)
    {
        while (seconds > 0 && queue.TryPeek(out var move))
        {
            var left = move.Target - at[(int)move.Axis];
            var step = move.SpeedMmPerS * seconds;
            if (left != 0)
                from[(int)move.Axis] = Math.Sign(left);
            if (Math.Abs(left) > step)
            {
                at[(int)move.Axis] += Math.Sign(left) * step;
                seconds = 0;
            }
            else
            {
                at[(int)move.Axis] = move.Target;
                seconds -= Math.Abs(left) / move.SpeedMmPerS;
                queue.Dequeue();
            }
            if (at[(int)move.Axis] < -0.001 || at[(int)move.Axis] > travel[(int)move.Axis] + 0.001)
            {
                at[(int)move.Axis] = Math.Clamp(at[(int)move.Axis], 0, travel[(int)move.Axis]);
                return true;
            }
        }
        return false;
    }
}
