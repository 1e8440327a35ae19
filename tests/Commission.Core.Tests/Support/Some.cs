using System.Collections.Immutable;
using Commission.Core.Readings;

namespace Commission.Core.Tests.Support;

/// <summary>Valid values, so that a test states only what matters to it.</summary>
internal static partial class Some
{
    /// <summary>A table of numbers; NaN is an empty cell.</summary>
    public static ReadingTable Table(string columns, params double[][] rows)
    {
        ImmutableArray<string> names = [.. columns.Split(',')];
        return new ReadingTable
        {
            Source = "some.csv",
            Columns = names,
            Rows = [.. rows.Select((row, k) => new ReadingRow
            {
                Number = k + 1,
                Line = k + 2,
                Numbers = names.Select((name, j) => (name, j)).Where(at => !double.IsNaN(row[at.j])).ToImmutableDictionary(at => at.name, at => row[at.j]),
                Words = ImmutableDictionary<string, string>.Empty,
            })],
        };
    }

    /// <summary>A table from published data.</summary>
    public static ReadingTable Published(string path)
    {
        var rows = ReferenceData.Csv(path);
        return Table(string.Join(',', rows[0].Keys), [.. rows.Select(row => row.Values.Select(ReferenceData.Number).ToArray())]);
    }

    /// <summary>Readings of one axis: commanded, measured, direction +1, -1 or 0 for not told.</summary>
    public static ReadingTable Axis(params (double Commanded, double Measured, int Direction)[] rows) => new()
    {
        Source = "axis.csv",
        Columns = rows.Any(row => row.Direction != 0) ? ["commanded_mm", "measured_mm", "direction"] : ["commanded_mm", "measured_mm"],
        Rows = [.. rows.Select((row, k) => new ReadingRow
        {
            Number = k + 1,
            Line = k + 2,
            Numbers = ImmutableDictionary<string, double>.Empty.Add("commanded_mm", row.Commanded).Add("measured_mm", row.Measured),
            Words = row.Direction == 0
                ? ImmutableDictionary<string, string>.Empty
                : ImmutableDictionary<string, string>.Empty.Add("direction", row.Direction > 0 ? "+" : "-"),
        })],
    };
}
