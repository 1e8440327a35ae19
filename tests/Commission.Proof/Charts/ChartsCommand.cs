using Commission.Tests;

namespace Commission.Proof.Charts;

/// <summary>
/// <c>charts [--short]</c>: run lengths of the program's own cumulative sums and level filter, by simulation, against the published
/// ones in <c>shared/reference/control_charts/arl.csv</c> (each row names its source).
/// </summary>
internal static class ChartsCommand
{
    private const double Bound = 4;

    /// <summary>A published run length.</summary>
    private sealed record Row(string Chart, double First, double Second, double Shift, double Published, double HalfDigit, string Source);

    internal static int Run(bool brief)
    {
        var runs = brief ? 400 : 20_000;
        var random = new Random(20261125);
        var missed = 0;
        Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"chart                    shift   published   simulated   bound   ({runs} runs a row)"));
        foreach (var row in Rows())
        {
            var lengths = Enumerable.Range(0, runs).Select(_ => (double)Length(row, random)).ToList();
            var mean = lengths.Average();
            var bound = Bound * Math.Sqrt(lengths.Sum(length => (length - mean) * (length - mean)) / (runs - 1.0) / runs) + row.HalfDigit;
            var held = Math.Abs(mean - row.Published) <= bound;
            missed += held ? 0 : 1;
            Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"{$"{row.Chart} {row.First:0.##} {row.Second:0.###}",-22} {row.Shift,7:0.00} {row.Published,11:0.##} {mean,11:0.00} {bound,7:0.00}   {(held ? "held" : "MISSED")}   {row.Source}"));
        }

        Console.Out.WriteLine(missed == 0 ? "held   every published run length" : string.Create(CultureInfo.InvariantCulture, $"MISSED {missed} published run lengths"));
        return missed == 0 ? 0 : 1;
    }

    // Two-sided charts that begin at zero: the forms the program has. Rows whose print is known to differ from the exact value carry a note.
    private static IEnumerable<Row> Rows() => File.ReadLines(Repository.At("shared/reference/control_charts/arl.csv")).Skip(1)
        .Select(line => line.Split(','))
        .Where(cells => cells[0] is "ewma" or "cusum" && cells[6] == "two" && cells[7].StartsWith("zero", StringComparison.Ordinal) && cells[8].Length > 0 && cells[11].Length == 0)
        .Select(cells => new Row(cells[0], Number(cells[2]), Number(cells[4]), Number(cells[5]), Number(cells[8]), HalfDigit(cells[8]), cells[9]));

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static double HalfDigit(string text) => 0.5 * Math.Pow(10, -(text.Contains('.', StringComparison.Ordinal) ? text.Length - text.IndexOf('.', StringComparison.Ordinal) - 1 : 0));

    private static int Length(Row row, Random random) => row.Chart == "cusum" ? Sums(row, random) : Averages(row, random);

    private static int Sums(Row row, Random random)
    {
        var sums = new CumulativeSums(row.First, row.Second);
        var length = 1;
        while (!sums.Alarms(Normal(random) + row.Shift, length))
            length++;
        return length;
    }

    // With equal spacing and uncertainty the filter is the exponential average: its gain is lambda where q = lambda^2 / (1 - lambda)
    // and it begins at its steady variance lambda.
    private static int Averages(Row row, Random random)
    {
        var filter = new LevelFilter(row.First * row.First / (1 - row.First));
        filter.Take(0, Math.Sqrt(row.First), 0);
        var limit = row.Second * Math.Sqrt(row.First / (2 - row.First));
        var length = 0;
        do
        {
            filter.Take(Normal(random) + row.Shift, 1, 1);
            length++;
        }
        while (Math.Abs(filter.Level) <= limit);
        return length;
    }

    private static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
