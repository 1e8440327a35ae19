namespace Commission.Core.Corrections;

/// <summary>The five errors that one plate finds together, or corrections of them.</summary>
/// <param name="ScaleX">Scale error of X, ratio, positive where it travels too far.</param>
/// <param name="ScaleY">Scale error of Y.</param>
/// <param name="Squareness">Squareness, rad, positive where the angle from +X to +Y is less than 90 degrees.</param>
/// <param name="ReversalX">Reversal value of X, mm, normally negative.</param>
/// <param name="ReversalY">Reversal value of Y, mm.</param>
public readonly record struct PlaneErrors(double ScaleX, double ScaleY, double Squareness, double ReversalX, double ReversalY)
{
    /// <summary>The five in their order.</summary>
    public double[] Values => [ScaleX, ScaleY, Squareness, ReversalX, ReversalY];

    /// <summary>From five values in their order.</summary>
    public static PlaneErrors Of(ReadOnlySpan<double> values) => new(values[0], values[1], values[2], values[3], values[4]);

    /// <summary>What is left after a correction, to first order (the product of two errors of 1e-3 is 1e-6).</summary>
    public PlaneErrors After(PlaneErrors correction) => new(
        ScaleX - correction.ScaleX, ScaleY - correction.ScaleY, Squareness - correction.Squareness,
        ReversalX - correction.ReversalX, ReversalY - correction.ReversalY);

    /// <summary>Largest error over the corners of a work area that starts at (0, 0), mm: hypot(|ex x + g y| + |Bx|/2, |ey y| + |By|/2).</summary>
    public double WorstCornerMm(double widthMm, double depthMm)
    {
        var (halfX, halfY) = (Math.Abs(ReversalX) / 2, Math.Abs(ReversalY) / 2);
        var (alongX, alongY) = (ScaleX * widthMm, ScaleY * depthMm);
        var lean = Squareness * depthMm;
        var far = Math.Max(Math.Abs(alongX + lean), Math.Abs(lean)) + halfX;
        var farY = Math.Abs(alongY) + halfY;
        var near = Math.Abs(alongX) + halfX;
        return Math.Sqrt(Math.Max((far * far) + (farY * farY), (near * near) + (halfY * halfY)));
    }
}
