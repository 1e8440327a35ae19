namespace Commission.Core.Quantities;

/// <summary>The inch.</summary>
public static class Inch
{
    /// <summary>Millimetres in an inch, exactly.</summary>
    public const double Mm = 25.4;
}
