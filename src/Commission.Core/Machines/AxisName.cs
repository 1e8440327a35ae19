namespace Commission.Core.Machines;

/// <summary>A linear axis of the machine. +X right, +Y away from the operator, +Z up (tool relative to work).</summary>
public enum AxisName
{
    /// <summary>Left and right.</summary>
    X,

    /// <summary>Towards and away from the operator.</summary>
    Y,

    /// <summary>Down and up.</summary>
    Z,
}

/// <summary>The sense in which a position was reached at last.</summary>
public enum Approach
{
    /// <summary>Coming in while the position increases; written <c>+</c>.</summary>
    Increasing,

    /// <summary>Coming in while the position decreases; written <c>-</c>.</summary>
    Decreasing,
}
