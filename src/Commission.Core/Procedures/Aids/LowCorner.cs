using Commission.Core.Machines;

namespace Commission.Core.Procedures.Aids;

/// <summary>Where the zero of lines lies that run over the whole reach of a machine.</summary>
internal static class LowCorner
{
    /// <summary>The sentences: what the zero is, and that it must be set there where the reference place of an axis is not known to be at its low end.</summary>
    /// <remarks>All these lines run from zero in the + direction: from a zero at the high end the first of them would lead over the end of travel.</remarks>
    public static string Words(Machine machine)
    {
        var elsewhere = new[] { AxisName.X, AxisName.Y }.Where(axis => machine[axis].HomeAt != HomeEnd.Low).ToArray();
        var zero = " Zero of X and Y is the low end of both, left and towards the operator: all lines run from there in +.";
        return elsewhere.Length == 0 ? zero
            : $"{zero} The reference place of {string.Join(" and ", elsewhere)} {(elsewhere.All(axis => machine[axis].HomeAt == HomeEnd.High) ? "is at the high end" : "is not known to be at the low end")}: do not leave zero there, but go to the low end and set it anew; the first line would else lead over the end of travel.";
    }
}
