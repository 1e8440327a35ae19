namespace Commission.Core.Instruments;

/// <summary>
/// How far a dial that stands against a moving part lets that part go on into it. The dial stands on the + side: coming from above the axis has to turn round
/// beyond the place, which is further into the dial, and a dial that is driven to its end breaks or shifts its stand.
/// </summary>
/// <param name="PressMm">How far its tip is pressed in at the place, at most, mm.</param>
/// <param name="BeyondMm">How far the axis may go on into it before it turns round, mm. It must be more than the lost motion, or the flank is not changed.</param>
public readonly record struct DialWay(double PressMm, double BeyondMm)
{
    // Of a short way three tenths are pressed in and four gone through, so that three are left as reserve; longer ones need no more than this (our choice).
    private const double PressPart = 0.3, BeyondPart = 0.4, LongestPressMm = 1, LongestBeyondMm = 1.5;

    /// <summary>How much it must be able to give way beyond the press, mm: the way gone and a reserve.</summary>
    public double RoomMm => BeyondMm + (PressMm / 2);

    /// <summary>The way of an instrument; of a usual dial where none is named, its range is not known, or it is no dial.</summary>
    /// <param name="instrument">The instrument; null where none is named.</param>
    public static DialWay Of(Instrument? instrument)
    {
        var range = instrument is { Kind: InstrumentKind.Indicator, RangeMm: > 0 and var known } ? known : double.PositiveInfinity;
        return new(Math.Min(LongestPressMm, PressPart * range), Math.Min(LongestBeyondMm, BeyondPart * range));
    }
}
