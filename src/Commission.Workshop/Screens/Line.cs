using System.Collections.Immutable;

namespace Commission.Workshop.Screens;

/// <summary>A stretch of a line that is not running text.</summary>
/// <param name="Start">First cell, from 0.</param>
/// <param name="Length">Number of cells.</param>
/// <param name="Ink">What it is.</param>
public readonly record struct Stretch(int Start, int Length, Ink Ink);

/// <summary>One line of a sheet: its exact text, and what parts of it are.</summary>
/// <param name="Text">The text, one character a cell.</param>
/// <param name="Stretches">Stretches with an ink of their own; later ones win.</param>
public sealed record Line(string Text, ImmutableArray<Stretch> Stretches)
{
    /// <summary>An empty line.</summary>
    public static Line Blank { get; } = new("", []);

    /// <summary>Plain text becomes a line whose tags, hazards and verdict words are inked.</summary>
    public static implicit operator Line(string text) => Inking.Of(text);

    /// <summary>The line with one more stretch.</summary>
    public Line With(int start, int length, Ink ink) => this with { Stretches = Stretches.Add(new(start, length, ink)) };

    /// <summary>The line with the first occurrence of a word inked.</summary>
    public Line With(string word, Ink ink) =>
        Text.IndexOf(word, StringComparison.Ordinal) is var at and >= 0 ? With(at, word.Length, ink) : this;

    /// <summary>The line with text set at a column, over what stands there.</summary>
    public Line Set(int column, Line other)
    {
        var padded = Text.PadRight(column + other.Text.Length);
        return new(
            padded[..column] + other.Text + padded[(column + other.Text.Length)..],
            [.. Stretches, .. other.Stretches.Select(s => s with { Start = s.Start + column })]);
    }

    /// <summary>The ink of each cell.</summary>
    public Ink[] Cells()
    {
        var cells = new Ink[Text.Length];
        foreach (var stretch in Stretches)
        {
            for (var i = Math.Max(0, stretch.Start); i < Math.Min(cells.Length, stretch.Start + stretch.Length); i++)
            {
                cells[i] = stretch.Ink;
            }
        }

        return cells;
    }
}
