using System.Globalization;
using Commission.Core.Machines;
using Commission.Core.Quantities;

namespace Commission.Core.Procedures;

/// <summary>A move as a line of ISO 6983, to be copied by an owner who commands the machine in their own way.</summary>
public static class IsoText
{
    /// <summary>The line; null for homing, which has no line there.</summary>
    /// <param name="move">The move.</param>
    /// <param name="units">Unit that the owner commands in; the unit is said in the line itself: a controller left in the other one would go 25.4 times as far.</param>
    public static string? Of(Move move, LengthUnit units = LengthUnit.Millimetre) => move switch
    {
        Move.To to when units == LengthUnit.Inch => string.Create(CultureInfo.InvariantCulture, $"G20 G90 G1 {MachineWords.Of(MachineWords.Axes, to.Axis)}{to.Mm / Inch.Mm:0.####} F{to.FeedMmMin / Inch.Mm:0.#}"),
        Move.By by when units == LengthUnit.Inch => string.Create(CultureInfo.InvariantCulture, $"G20 G91 G1 {MachineWords.Of(MachineWords.Axes, by.Axis)}{by.Mm / Inch.Mm:0.####} F{by.FeedMmMin / Inch.Mm:0.#}"),
        Move.To to => string.Create(CultureInfo.InvariantCulture, $"G21 G90 G1 {MachineWords.Of(MachineWords.Axes, to.Axis)}{to.Mm:0.###} F{to.FeedMmMin:0}"),
        Move.By by => string.Create(CultureInfo.InvariantCulture, $"G21 G91 G1 {MachineWords.Of(MachineWords.Axes, by.Axis)}{by.Mm:0.###} F{by.FeedMmMin:0}"),
        _ => null,
    };
}
