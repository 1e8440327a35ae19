using Commission.Core.Machines;

namespace Commission.Practice.Bench;

/// <summary>One place of a grid at which the simulated operator is asked for a reading.</summary>
/// <param name="Characteristic">Id of the kind of characteristic.</param>
/// <param name="Axis">The axis; null where the test is not of one axis.</param>
/// <param name="Given">Quantities of the place by column name, as <c>commanded_mm</c>.</param>
/// <param name="Words">Words of the place by column name, as <c>direction</c>.</param>
public sealed record Cell(
    string Characteristic, AxisName? Axis, IReadOnlyDictionary<string, double> Given, IReadOnlyDictionary<string, string> Words)
{
    /// <summary>A given quantity; a missing one is a defect of the caller.</summary>
    public double this[string column] => Given[column];

    /// <summary>A given quantity, or a value where it is not given.</summary>
    public double Or(string column, double otherwise) => Given.TryGetValue(column, out var value) ? value : otherwise;

    /// <summary>A given word, or another where it is not given.</summary>
    public string WordOr(string column, string otherwise) => Words.TryGetValue(column, out var word) ? word : otherwise;

    /// <summary>A label that some plans keep as a number and others as a word, as <c>setup</c> or <c>object</c>.</summary>
    public string Label(string column) => Given.TryGetValue(column, out var number)
        ? number.ToString(System.Globalization.CultureInfo.InvariantCulture)
        : Words[column];

    /// <summary>+1 or -1 from a direction word; +1 where none is given.</summary>
    public int Sign(string column = "direction") => WordOr(column, "+") is "-" or "minus" ? -1 : 1;
}
