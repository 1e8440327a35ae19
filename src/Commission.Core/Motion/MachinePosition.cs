using Commission.Core.Machines;

namespace Commission.Core.Motion;

/// <summary>A position of the three axes, mm. What it counts from is told where it is used.</summary>
/// <param name="X">X, mm.</param>
/// <param name="Y">Y, mm.</param>
/// <param name="Z">Z, mm.</param>
public readonly record struct MachinePosition(double X, double Y, double Z)
{
    /// <summary>The position of one axis, mm.</summary>
    public double this[AxisName axis] => axis switch { AxisName.X => X, AxisName.Y => Y, _ => Z };

    /// <summary>The same with one axis elsewhere.</summary>
    public MachinePosition With(AxisName axis, double value) => axis switch
    {
        AxisName.X => this with { X = value },
        AxisName.Y => this with { Y = value },
        _ => this with { Z = value },
    };

    /// <summary>The sum, axis by axis.</summary>
    public MachinePosition Plus(MachinePosition other) => new(X + other.X, Y + other.Y, Z + other.Z);

    /// <summary>The difference, axis by axis.</summary>
    public MachinePosition Minus(MachinePosition other) => new(X - other.X, Y - other.Y, Z - other.Z);
}
