using System.Collections.Immutable;

namespace Commission.Core.Procedures;

/// <summary>Where readings are taken, by the name of a plan kind.</summary>
public abstract record Grid
{
    private Grid()
    {
    }

    /// <summary>The axis that moves between the cells; null where the grid speaks of none.</summary>
    public AxisChoice? Axis { get; init; }

    /// <summary>Positions along an axis by the plan for its scale: quarter periods, balanced directions.</summary>
    /// <param name="Window">Which part of the travel: low, middle or high.</param>
    public sealed record AlongAxis(Plans.AxisWindow Window) : Grid;

    /// <summary>Equal parts of a period of the drive, each come to from below, the first again last.</summary>
    /// <param name="Count">Number of parts, at least 6.</param>
    /// <param name="Period">The period, mm: a number or an earlier value; null takes the travel of one turn.</param>
    /// <param name="At">Where on the travel, as a fraction, 0 to 1.</param>
    public sealed record Phases(int Count, Term? Period, double At) : Grid;

    /// <summary>Places along an axis, each approached from both sides in pairs.</summary>
    /// <param name="Fractions">Places as fractions of the travel, 0 to 1.</param>
    /// <param name="Pairs">Pairs of approaches at each place.</param>
    public sealed record Places(ImmutableArray<double> Fractions, int Pairs) : Grid;

    /// <summary>Distances between marks.</summary>
    /// <param name="Marks">The marks by name.</param>
    /// <param name="Ways">Pairs of names.</param>
    /// <param name="Repeats">How often each distance is read.</param>
    public sealed record Distances(ImmutableArray<Mark> Marks, ImmutableArray<(string From, string To)> Ways, int Repeats) : Grid
    {
        /// <summary>The sheet that carries the marks; null where they lie over the travel.</summary>
        public MarkSheet? Sheet { get; init; }

        /// <summary>Walls of the holes that the jaws touch, each read once a distance: <c>outer</c>, <c>inner</c>, <c>centre</c>; empty where that is not told.</summary>
        public ImmutableArray<string> Edges { get; init; } = [];
    }

    /// <summary>Angles round the spindle.</summary>
    /// <param name="Degrees">The angles, counter-clockwise from +X.</param>
    public sealed record Angles(ImmutableArray<double> Degrees) : Grid;

    /// <summary>Points over the bed, row by row, back and forth.</summary>
    /// <param name="Columns">Points along X, at least 2.</param>
    /// <param name="Rows">Points along Y, at least 2.</param>
    /// <param name="MarginMm">Distance of the outer points from the ends of travel, mm.</param>
    public sealed record Points(int Columns, int Rows, double MarginMm) : Grid;

    /// <summary>Diameters of circles.</summary>
    /// <param name="Degrees">The angles.</param>
    /// <param name="Turnings">How the circles were cut: <c>cw</c>, <c>ccw</c>.</param>
    /// <param name="Repeats">How often each is read.</param>
    public sealed record Circle(ImmutableArray<double> Degrees, ImmutableArray<string> Turnings, int Repeats) : Grid;

    /// <summary>Objects, each measured several times.</summary>
    /// <param name="Things">The objects with what is known of each.</param>
    /// <param name="Trials">How often each is measured.</param>
    public sealed record Objects(ImmutableArray<Thing> Things, int Trials) : Grid;
}

/// <summary>A mark on bed or sheet.</summary>
/// <param name="Name">Its name.</param>
/// <param name="X">Fraction of the X travel, 0 to 1; on a sheet mm from its left edge.</param>
/// <param name="Y">Fraction of the Y travel, 0 to 1; on a sheet mm from its near edge.</param>
public sealed record Mark(string Name, double X, double Y)
{
    /// <summary>Side that X and Y come from last, X first: <c>++ +- -+ --</c>; null where it does not matter.</summary>
    public string? Approach { get; init; }
}

/// <summary>A loose sheet that marks are drilled into. It is made larger or smaller to suit the instrument.</summary>
/// <param name="WidthMm">Width along X, mm.</param>
/// <param name="DepthMm">Depth along Y, mm.</param>
/// <param name="RangeMm">Range of the instrument that these sizes are for, mm.</param>
public sealed record MarkSheet(double WidthMm, double DepthMm, double RangeMm);

/// <summary>A thing to be measured.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Given">Columns with what is known of it.</param>
public sealed record Thing(string Name, ImmutableSortedDictionary<string, string> Given);
