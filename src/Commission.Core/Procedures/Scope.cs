using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Machines;

namespace Commission.Core.Procedures;

/// <summary>What repeats and ladders round a step have fixed: the axis, the place, the rung.</summary>
public sealed record Scope
{
    /// <summary>The axis chosen, or counted through; null where there is none.</summary>
    public AxisName? Axis { get; init; }

    /// <summary>Path of rounds, put before the step's name: <c>rungs/3/</c>; empty outside rounds.</summary>
    public string Path { get; init; } = "";

    /// <summary>Numbers that readings inside carry, by column.</summary>
    public ImmutableSortedDictionary<string, double> Given { get; init; } = ImmutableSortedDictionary<string, double>.Empty;

    /// <summary>Words that readings inside carry, by column.</summary>
    public ImmutableSortedDictionary<string, string> Words { get; init; } = ImmutableSortedDictionary<string, string>.Empty;

    /// <summary>Texts for placeholders, by name.</summary>
    public ImmutableSortedDictionary<string, string> Texts { get; init; } = ImmutableSortedDictionary<string, string>.Empty;

    /// <summary>Numbers that terms inside may name, by name.</summary>
    public ImmutableSortedDictionary<string, double> Values { get; init; } = ImmutableSortedDictionary<string, double>.Empty;

    /// <summary>The scope of a round.</summary>
    /// <param name="path">The round's part of the path.</param>
    /// <param name="placeholder">Name of the placeholder.</param>
    /// <param name="shown">Its text.</param>
    public Scope Round(string path, string placeholder, string shown) =>
        this with { Path = Path + path + "/", Texts = Texts.SetItem(placeholder, shown) };

    /// <summary>The same scope with a number for readings and terms.</summary>
    public Scope Carrying(string? column, string name, double value) => this with
    {
        Given = column is null ? Given : Given.SetItem(column, value),
        Values = Values.SetItem(name, value),
    };

    /// <summary>A number as it is shown in a text: no exponent, no more digits than it has.</summary>
    public static string Shown(double value) => Math.Round(value, 6).ToString("0.######", CultureInfo.InvariantCulture);
}
