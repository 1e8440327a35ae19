using System.Collections.Immutable;

namespace Commission.Core.Characteristics;

/// <summary>A picture as data: drawn as cells, as SVG or as text from the same values.</summary>
public sealed record Figure
{
    /// <summary>Title, one line.</summary>
    public required string Title { get; init; }

    /// <summary>Label of the horizontal axis with its unit.</summary>
    public required string Horizontal { get; init; }

    /// <summary>Label of the vertical axis with its unit.</summary>
    public required string Vertical { get; init; }

    /// <summary>How the plane is drawn.</summary>
    public FigureForm Form { get; init; }

    /// <summary>The layers, drawn in order.</summary>
    public required ImmutableArray<FigureLayer> Layers { get; init; }

    /// <summary>What the picture shows, in a sentence: for text form and for readers who cannot see it.</summary>
    public required string Summary { get; init; }
}

/// <summary>How the plane of a figure is drawn.</summary>
public enum FigureForm
{
    /// <summary>Rectangular axes with scales of their own.</summary>
    Rectangular,

    /// <summary>Rectangular axes with one scale for both.</summary>
    EqualScale,

    /// <summary>Angle (degrees, counter-clockwise from +X) and radius.</summary>
    Polar,

    /// <summary>A map of heights over the plane: points with a level.</summary>
    Map,
}

/// <summary>A point of a figure.</summary>
/// <param name="X">Horizontal value, or the angle in degrees of a polar figure.</param>
/// <param name="Y">Vertical value, or the radius of a polar figure.</param>
/// <param name="Bar">Half length of the uncertainty bar; null for none.</param>
/// <param name="Level">Height, in a map; null elsewhere.</param>
public readonly record struct FigurePoint(double X, double Y, double? Bar = null, double? Level = null);

/// <summary>How the points of a layer are marked; told apart without colour.</summary>
public enum FigureMark
{
    /// <summary>A dot.</summary>
    Dot,

    /// <summary>Came in with increasing position: <c>&gt;</c>.</summary>
    Increasing,

    /// <summary>Came in with decreasing position: <c>&lt;</c>.</summary>
    Decreasing,

    /// <summary>A questioned or excluded point: <c>x</c>.</summary>
    LeftOut,

    /// <summary>A fitted or filtered value.</summary>
    Fitted,
}

/// <summary>One layer of a figure.</summary>
public abstract record FigureLayer
{
    private FigureLayer()
    {
    }

    /// <summary>Separate points.</summary>
    /// <param name="Name">Name in the legend.</param>
    /// <param name="Mark">How they are marked.</param>
    /// <param name="Values">The points.</param>
    public sealed record Points(string Name, FigureMark Mark, ImmutableArray<FigurePoint> Values) : FigureLayer;

    /// <summary>A line through points.</summary>
    /// <param name="Name">Name in the legend.</param>
    /// <param name="Values">The points.</param>
    /// <param name="Dashed">Whether it is dashed.</param>
    public sealed record Line(string Name, ImmutableArray<FigurePoint> Values, bool Dashed = false) : FigureLayer;

    /// <summary>A band between two horizontal limits, as a tolerance.</summary>
    /// <param name="Name">Name in the legend.</param>
    /// <param name="Low">Lower limit.</param>
    /// <param name="High">Upper limit.</param>
    public sealed record Band(string Name, double Low, double High) : FigureLayer;

    /// <summary>A vertical mark with words, as a change in a trend.</summary>
    /// <param name="Name">The words.</param>
    /// <param name="X">Where it stands.</param>
    public sealed record Event(string Name, double X) : FigureLayer;
}
