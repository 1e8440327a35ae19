using System.Globalization;
using Commission.Practice.Draws;
using Commission.Practice.Instruments;

namespace Commission.Practice.Operators;

/// <summary>Which faces a length is read between.</summary>
public enum Faces
{
    /// <summary>Outside jaws on two near faces.</summary>
    Inner,

    /// <summary>Inside jaws on two far walls.</summary>
    Outer,

    /// <summary>From line to line.</summary>
    Lines,
}

/// <summary>A simulated person who reads instruments and types what they show.</summary>
public sealed class PracticeOperator(Hand hand, SlipHabits slips, DrawSource source)
{
    /// <summary>The person's habits.</summary>
    public Hand Hand { get; } = hand;

    /// <summary>Slips made so far.</summary>
    public int Slips { get; private set; }

    /// <summary>The person's own chance, for decisions.</summary>
    public DrawSource Source { get; } = source;

    /// <summary>Reads a length with a caliper, mm, rounded to its last digit.</summary>
    /// <remarks>Tilted jaws read long by half the square of the tilt, in each of two planes.</remarks>
    public double Caliper(PracticeInstrument caliper, double lengthMm, Faces faces = Faces.Inner)
    {
        var tilt = Hand.JawTiltDeg * Math.PI / 180;
        var (first, second) = (tilt * Source.NextNormal(), tilt * Source.NextNormal());
        var seen = lengthMm * (1 + (((first * first) + (second * second)) / 2));
        var shown = seen + caliper.Error.At(lengthMm) + (faces == Faces.Outer ? caliper.InsideOffsetMm : 0)
            + (caliper.OwnScatterMm * Source.NextNormal()) + (Hand.ReadingSdMm * Source.NextNormal());
        return WithSlip(Rounded(shown, caliper.ResolutionMm));
    }

    /// <summary>Reads an indicator, mm, rounded to its last digit.</summary>
    public double Indicator(PracticeInstrument indicator, double positionMm)
    {
        var shown = positionMm + indicator.Error.At(positionMm) + (indicator.OwnScatterMm * Source.NextNormal())
            + (Hand.IndicatorSdMm * Source.NextNormal());
        return WithSlip(Rounded(shown, indicator.ResolutionMm));
    }

    /// <summary>Reads a tape from line to line, or from its hook, mm, rounded to its last digit.</summary>
    public double Tape(PracticeInstrument tape, double lengthMm, bool fromHook = false)
    {
        var shown = lengthMm + tape.Error.At(lengthMm) + (fromHook ? tape.HookMm : 0) + (Hand.TapeSdMm * Source.NextNormal());
        return WithSlip(Rounded(shown, tape.ResolutionMm));
    }

    /// <summary>A number as it is typed after reading a display with this last digit.</summary>
    public static string Typed(double value, double resolutionMm)
    {
        var decimals = 0;
        for (var digit = resolutionMm; digit < 0.9999999 && decimals < 6; digit *= 10)
            decimals++;
        var text = value.ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        return text.Trim('0', '.', '-').Length == 0 ? text.TrimStart('-') : text;
    }

    /// <summary>A value rounded to a last digit.</summary>
    public static double Rounded(double value, double resolution) => resolution <= 0 ? value : Math.Round(value / resolution) * resolution;

    private double WithSlip(double reading)
    {
        if (Hand.SlipRate == 0 || !Source.NextChance(Hand.SlipRate))
            return reading;
        Slips++;
        var kinds = slips.Kinds;
        return kinds[Source.NextWeighted([.. kinds.Select(kind => kind.Weight)])].Slip switch
        {
            Slip.Miscount miscount => reading + (Source.NextSign() * miscount.Mm),
            Slip.SwapsDigits => SwapTenthsAndHundredths(reading),
            _ => throw new System.Diagnostics.UnreachableException(),
        };
    }

    private static double SwapTenthsAndHundredths(double reading)
    {
        var hundredths = (long)Math.Round(Math.Abs(reading) * 100);
        var (tens, ones) = (hundredths / 10 % 10, hundredths % 10);
        var swapped = hundredths - (tens * 10) - ones + (ones * 10) + tens;
        return Math.Sign(reading) * swapped / 100.0;
    }
}
