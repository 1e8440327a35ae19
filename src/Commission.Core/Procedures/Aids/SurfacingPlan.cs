namespace Commission.Core.Procedures.Aids;

/// <summary>How a board is surfaced: lines side by side along X, all in one direction, in layers of equal depth.</summary>
/// <param name="WidthMm">Length of a line, mm.</param>
/// <param name="DepthMm">Distance between the first line and the last, mm.</param>
/// <param name="CutterMm">Diameter of the cutter, mm.</param>
/// <param name="TakeOffMm">What is taken off in all, mm.</param>
/// <param name="FeedMmMin">Speed of the cut, mm/min.</param>
public sealed record SurfacingPlan(double WidthMm, double DepthMm, double CutterMm, double TakeOffMm, double FeedMmMin)
{
    // Common practice, no source: at most 70 % of the cutter; 40 % leaves half the ridge of a tilted spindle.
    private const double StepShare = 0.4;
    private const double MostLayerMm = 1;

    // Length of the ramp for one mm of depth, about 3 degrees (common practice, no source): wide cutters have no edges in their middle.
    private const double RampShare = 20;

    /// <summary>Distance between neighbouring lines, mm: the last line ends where the board does.</summary>
    public double StepMm => Lines > 1 ? DepthMm / (Lines - 1) : DepthMm;

    /// <summary>Lines in a layer.</summary>
    public int Lines => (int)Math.Ceiling(DepthMm / (StepShare * CutterMm)) + 1;

    /// <summary>Layers, none deeper than 1 mm.</summary>
    public int Layers => Math.Max(1, (int)Math.Ceiling(TakeOffMm / MostLayerMm - 1e-9));

    /// <summary>Depth of one layer, mm.</summary>
    public double LayerMm => TakeOffMm / Layers;

    /// <summary>Length along a line over which the cutter goes down into a layer, mm: it is never driven straight down into the board.</summary>
    public double RampMm => Math.Min(WidthMm, RampShare * LayerMm);

    /// <summary>Minutes of cutting with the ramps, which are cut at half the speed and gone back over, without the ways back; those take about as long again at the same speed.</summary>
    public double Minutes => Layers * Lines * (WidthMm + (3 * RampMm)) / FeedMmMin;

    /// <summary>Least thickness of the board before it is cut, mm: two thirds must stay (common practice, no source).</summary>
    public double LeastBoardMm => 3 * TakeOffMm;

    /// <summary>Depth below which screws and inserts must lie before the cut, mm: 3 mm below the deepest line (common practice, no source).</summary>
    public double ScrewsBelowMm => TakeOffMm + 3;

    /// <summary>Height of the ridges that a tilted spindle leaves between the lines of this plan, mm.</summary>
    /// <param name="tiltAlong">Tilt along the lines, rad.</param>
    /// <param name="tiltAcross">Tilt across them, rad.</param>
    public double Ridge(double tiltAlong, double tiltAcross) => Ridge(CutterMm, StepMm, tiltAlong, tiltAcross);

    /// <summary>Height of the ridges between lines side by side, mm.</summary>
    /// <remarks>One line leaves t_y y - |t_x| sqrt(R^2 - y^2) across its width; the board is the lowest of all lines side by side (own derivation).</remarks>
    /// <param name="cutterMm">Diameter of the cutter, mm.</param>
    /// <param name="step">Distance between the lines, mm.</param>
    /// <param name="tiltAlong">Tilt along the lines, rad.</param>
    /// <param name="tiltAcross">Tilt across them, rad.</param>
    public static double Ridge(double cutterMm, double step, double tiltAlong, double tiltAcross)
    {
        const int points = 400;
        var radius = cutterMm / 2;
        var around = (int)Math.Ceiling(cutterMm / step) + 1;
        var (highest, lowest) = (double.NegativeInfinity, double.PositiveInfinity);
        for (var i = 0; i < points; i++)
        {
            var place = step * i / points;
            var surface = double.PositiveInfinity;
            for (var line = -around; line <= around; line++)
            {
                var y = place - (line * step);
                if (Math.Abs(y) <= radius) surface = Math.Min(surface, (tiltAcross * y) - (Math.Abs(tiltAlong) * Math.Sqrt((radius * radius) - (y * y))));
            }

            (highest, lowest) = (Math.Max(highest, surface), Math.Min(lowest, surface));
        }

        return highest - lowest;
    }
}
