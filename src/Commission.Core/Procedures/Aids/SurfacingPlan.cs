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
}
