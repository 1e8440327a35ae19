using System.Collections.Immutable;
using System.Diagnostics;
using Commission.Adapters.Storage;
using Commission.Core.History;
using Commission.Core.Instruments;
using Commission.Core.Readings;
using Commission.Practice.Draws;
using Commission.Proof.Durability;

namespace Commission.Proof.Speed;

/// <summary>Table E: ratios within one run, so that the machine they were taken on hardly matters. Figures without goals: a busy machine tells nothing.</summary>
internal static class SpeedTable
{
    public static ProofTable Make(ulong seed, bool isShort, string? program, string? empty)
    {
        var table = new ProofTable(
            "Table E: speed. Ratios within one run; medians", string.Create(CultureInfo.InvariantCulture, $"  seed {seed}"), "what", "ours", "bare", "ratio");
        Appends(table, isShort ? 60 : 400);
        foreach (var rows in new[] { 10, 100, 1000 })
            Fits(table, rows, seed, isShort ? 5 : 40);
        if (program is not null)
            WholeProcess.Into(table, program, empty, isShort ? 9 : 41);
        return table;
    }

    private static JournalOpening Opening { get; } = new()
    {
        Nature = StoreNature.Practice,
        Program = "proof",
        Clock = TimeProvider.System,
        NewStore = () => "proof",
    };

    /// <summary>A reading on the medium through the journal, against the same bytes written and flushed.</summary>
    private static void Appends(ProofTable table, int count)
    {
        using var folder = new TemporaryFolder();
        using var journal = JournalFolder.Open(folder.At("store"), Opening).Require();
        using var file = new FileStream(folder.At("bare"), FileMode.CreateNew, FileAccess.Write, FileShare.None, 1);
        var bytes = new byte[260];
        // In turns: what else the disk does meanwhile meets both alike.
        var (ours, bare) = InTurns(
            count, () => journal.Append(new EntryBody.Noted(null, "a reading of ten or twenty letters")).Require(),
            () =>
            {
                file.Write(bytes);
                file.Flush(flushToDisk: true);
            });
        Row(table, "one entry on the medium, ms", 1e3 * ours, 1e3 * bare);
    }

    private static void Fits(ProofTable table, int rows, ulong seed, int repeats)
    {
        var source = new DrawSource(seed).For("fits", rows);
        var readings = new ReadingTable
        {
            Source = "proof",
            Columns = ["commanded_mm", "measured_mm", "direction"],
            Rows = [.. Enumerable.Range(0, rows).Select(i => Reading(i, 4 + (142.0 * i / Math.Max(1, rows - 1)), source))],
        };
        var options = new FitOptions
        {
            Axis = AxisName.X,
            StepsPerMm = 320,
            Instrument = new Instrument("caliper", InstrumentKind.CaliperDigital, 0.03, 0.01, 150, "proof"),
        };
        var kind = CharacteristicKinds.Find("axis-scale")!;
        kind.Evaluate(readings, options); // warm
        var ours = Median(repeats, () => kind.Evaluate(readings, options));
        double[][] design = [.. readings.Rows.Select(row => new[] { 1, row["commanded_mm"], row.Sign() / 2.0 })];
        var bare = Median(repeats, () => Efficiency.Information.LeastVariance(design, 1, 1));
        Row(table, string.Create(CultureInfo.InvariantCulture, $"fit axis-scale, {rows} rows, ms ({1 / ours:F0} fits a second); bare: normal equations alone"),
            1e3 * ours, 1e3 * bare);
    }

    private static ReadingRow Reading(int i, double place, DrawSource source) => new()
    {
        Number = i + 1,
        Numbers = ImmutableDictionary<string, double>.Empty.Add("commanded_mm", place).Add("measured_mm", place + (0.02 * source.NextNormal())),
        Words = ImmutableDictionary<string, string>.Empty.Add("direction", i % 2 == 0 ? "+" : "-"),
    };

    private static double Median(int count, Action work) => Middle([.. Enumerable.Range(0, count).Select(_ => Seconds(work))]);

    private static (double First, double Second) InTurns(int count, Action first, Action second)
    {
        var (one, other) = (new double[count], new double[count]);
        for (var i = 0; i < count; i++)
            (one[i], other[i]) = (Seconds(first), Seconds(second));
        return (Middle(one), Middle(other));
    }

    private static double Seconds(Action work)
    {
        var start = Stopwatch.GetTimestamp();
        work();
        return Stopwatch.GetElapsedTime(start).TotalSeconds;
    }

    private static double Middle(double[] times)
    {
        Array.Sort(times);
        return times[times.Length / 2];
    }

    internal static void Row(ProofTable table, string what, double ours, double bare) => table.Row(
        what, ours.ToString("G3", CultureInfo.InvariantCulture), bare.ToString("G3", CultureInfo.InvariantCulture),
        (ours / bare).ToString("F1", CultureInfo.InvariantCulture));
}
