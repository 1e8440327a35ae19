using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Machines;
using Commission.Core.Quantities;

namespace Commission.Core.Procedures.Aids;

/// <summary>Writes plain motion lines of ISO 6983: G0, G1, G2, G3 with X, Y, Z, I, J and F, in absolute positions. No M, S or T word is ever written: the owner starts and stops the spindle in their own way.</summary>
/// <param name="units">Unit of the numbers.</param>
public sealed class IsoLines(LengthUnit units)
{
    private readonly ImmutableArray<string>.Builder lines = ImmutableArray.CreateBuilder<string>();

    /// <summary>Height of moves above the work, mm over its face.</summary>
    public const double ClearMm = 5;

    /// <summary>What the ways above the work ask for: said with every file of lines.</summary>
    public const string Ways = " The first line and all ways between the cuts go to 5 mm above that zero: no clamp or screw may stand higher anywhere on the way.";

    /// <summary>The lines so far.</summary>
    public ImmutableArray<string> Lines => lines.ToImmutable();

    /// <summary>The first line: unit, absolute positions, arcs in the plane of X and Y, feed per minute; then up.</summary>
    public IsoLines Begin()
    {
        lines.Add((units == LengthUnit.Inch ? "G20" : "G21") + " G90 G17 G94");
        return Up();
    }

    /// <summary>Up to clear height.</summary>
    public IsoLines Up()
    {
        lines.Add("G0 Z" + Shown(ClearMm));
        return this;
    }

    /// <summary>Quickly to a place, above the work.</summary>
    public IsoLines Above(double xMm, double yMm)
    {
        lines.Add($"G0 X{Shown(xMm)} Y{Shown(yMm)}");
        return this;
    }

    /// <summary>Slowly to a place.</summary>
    public IsoLines To(double xMm, double yMm, double feedMmMin)
    {
        lines.Add($"G1 X{Shown(xMm)} Y{Shown(yMm)} F{Feed(feedMmMin)}");
        return this;
    }

    /// <summary>Slowly to a place, down or up on the way.</summary>
    public IsoLines Ramp(double xMm, double yMm, double zMm, double feedMmMin)
    {
        lines.Add($"G1 X{Shown(xMm)} Y{Shown(yMm)} Z{Shown(zMm)} F{Feed(feedMmMin)}");
        return this;
    }

    /// <summary>Down or up to a height.</summary>
    public IsoLines ToHeight(double zMm, double feedMmMin)
    {
        lines.Add($"G1 Z{Shown(zMm)} F{Feed(feedMmMin)}");
        return this;
    }

    /// <summary>A quarter arc to a place.</summary>
    /// <param name="clockwise">Whether it turns clockwise, seen from above.</param>
    /// <param name="xMm">End.</param>
    /// <param name="yMm">End.</param>
    /// <param name="iMm">Middle in X, from the start.</param>
    /// <param name="jMm">Middle in Y, from the start.</param>
    /// <param name="feedMmMin">Speed.</param>
    public IsoLines Arc(bool clockwise, double xMm, double yMm, double iMm, double jMm, double feedMmMin)
    {
        lines.Add($"{(clockwise ? "G2" : "G3")} X{Shown(xMm)} Y{Shown(yMm)} I{Shown(iMm)} J{Shown(jMm)} F{Feed(feedMmMin)}");
        return this;
    }

    /// <summary>A length as it stands in a line: no exponent, no more digits than can be set.</summary>
    public string Shown(double mm) => units == LengthUnit.Inch
        ? Plain(Math.Round(mm / Inch.Mm, 4), "0.####")
        : Plain(Math.Round(mm, 3), "0.###");

    private string Feed(double mmMin) => units == LengthUnit.Inch ? Plain(mmMin / Inch.Mm, "0.##") : Plain(mmMin, "0.#");

    private static string Plain(double value, string format) => (value == 0 ? 0 : value).ToString(format, CultureInfo.InvariantCulture);
}
