namespace Commission.Core.Plans;

/// <summary>Which part of an axis a short instrument looks at.</summary>
public enum AxisWindow
{
    /// <summary>The middle of the travel.</summary>
    Middle,

    /// <summary>The end of small positions.</summary>
    Low,

    /// <summary>The end of large positions.</summary>
    High,
}
