using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Readings;

namespace Commission.Core.Characteristics;

/// <summary>Readings of one axis, found fit to be evaluated.</summary>
/// <param name="Rows">Commanded and measured position, mm, and direction: +1, -1, or 0 where no row tells it.</param>
/// <param name="Directions">Whether both directions occur, so that lost motion can be separated.</param>
/// <param name="Zeros">For each row the number of its zero, from 0: readings after a set-up was disturbed have a zero of their own. Default: one zero for all.</param>
internal sealed record AxisReadings(ImmutableArray<(double Commanded, double Measured, int Direction)> Rows, bool Directions, ImmutableArray<int> Zeros = default)
{
    /// <summary>Column whose word tells which zero a reading belongs to; rows without it share one.</summary>
    public const string ZeroColumn = "zero";

    /// <summary>Zeros besides the first.</summary>
    public int MoreZeros => Zeros.IsDefaultOrEmpty ? 0 : Zeros.Max();

    /// <summary>Number of a row's zero, from 0.</summary>
    public int ZeroOf(int row) => Zeros.IsDefaultOrEmpty ? 0 : Zeros[row];

    /// <summary>The coefficients of the further zeros in a row's equation.</summary>
    public IEnumerable<double> ZeroPart(int row) => Enumerable.Range(1, MoreZeros).Select(zero => ZeroOf(row) == zero ? 1.0 : 0.0);

    public double LongestCommanded => Rows.Max(row => Math.Abs(row.Commanded));

    public double LowestCommanded => Rows.Min(row => row.Commanded);

    public double HighestCommanded => Rows.Max(row => row.Commanded);

    /// <summary>Length between the lowest and the highest commanded position, mm; positive where a scale can be fitted.</summary>
    public double Window => HighestCommanded - LowestCommanded;

    /// <summary>Takes the readings out of a table, or says everything that stands in the way.</summary>
    public static Outcome<AxisReadings> Of(ReadingTable table)
    {
        var used = table.Used.ToArray();
        var told = used.Count(row => row.Sign() != 0);
        if (used.Select(row => row["commanded_mm"]).Distinct().Count() < 2)
            return At(table, null, "the readings lie at fewer than two positions", "Measure at two positions at least, better at three");
        if (told > 0 && told < used.Length)
        {
            return new Outcome<AxisReadings>.Bad([.. used.Where(row => row.Sign() == 0).Select(row =>
                At(table, row, "the direction is missing in this row", "Write + or -, or leave the row out with a reason in the column excluded"))]);
        }

        var rows = used.Select(row => (row["commanded_mm"], row["measured_mm"], row.Sign())).ToImmutableArray();
        var words = used.Select(row => row.Words.GetValueOrDefault(ZeroColumn, "")).ToArray();
        var distinct = words.Distinct().ToList();
        ImmutableArray<int> zeros = [.. words.Select(word => distinct.IndexOf(word))];
        var slope = MedianSlope([.. rows.Where((_, i) => zeros[i] == MostUsed(zeros))]);
        if (slope <= 0)
        {
            return At(table, null, string.Create(CultureInfo.InvariantCulture, $"measured_mm falls while commanded_mm grows (slope {slope:0.000})"),
                Math.Abs(slope + 1) < .1
                    ? "Was it measured from the other side? Enter the distance that grows with the commanded position"
                    : "Enter the distance that grows with the commanded position");
        }

        return new AxisReadings(rows, rows.Any(row => row.Item3 > 0) && rows.Any(row => row.Item3 < 0), zeros);
    }

    private static int MostUsed(ImmutableArray<int> zeros) => zeros.GroupBy(zero => zero).MaxBy(group => group.Count())!.Key;

    // Median slope over pairs of different positions (Theil and Sen): one slip does not turn it.
    private static double MedianSlope(ImmutableArray<(double Commanded, double Measured, int)> rows)
    {
        // Enough pairs for the sense of the axis; more would cost the square of the rows.
        var step = Math.Max(1, rows.Length / 60);
        var some = rows.Where((_, k) => k % step == 0).ToArray();
        if (some.Select(row => row.Commanded).Distinct().Count() < 2 && rows.Length > 1) some = [rows.MinBy(row => row.Commanded), rows.MaxBy(row => row.Commanded)];
        var slopes = new List<double>();
        for (var i = 0; i < some.Length; i++)
            for (var j = 0; j < i; j++)
                if (some[i].Commanded != some[j].Commanded)
                    slopes.Add((some[i].Measured - some[j].Measured) / (some[i].Commanded - some[j].Commanded));
        slopes.Sort();
        return slopes.Count == 0 ? 1 : slopes[slopes.Count / 2];
    }

    private static Problem At(ReadingTable table, ReadingRow? row, string what, string remedy) =>
        new(what, remedy) { File = table.Source, Line = row?.Line };
}
