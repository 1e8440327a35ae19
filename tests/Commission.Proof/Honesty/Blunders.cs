using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.Readings;
using Commission.Practice.Draws;
using Commission.Proof.Tables;

namespace Commission.Proof.Honesty;

/// <summary>One reading of each set is wrong by half a millimetre; how often is it named, and how often is anything named where nothing is wrong.</summary>
internal static class Blunders
{
    private const double SizeMm = 0.5;
    private const double LeastFound = 0.95;
    private const double MostFlagged = 0.01;

    // Kinds read with a caliper or an indicator; half a millimetre is two standard deviations of a tape.
    private static readonly string[] Kinds = ["axis-scale", "backlash", "plate", "tram", "runout"];

    private const ulong Seed = 20261125;

    /// <summary>Prints the table.</summary>
    /// <returns>0; 1 where a goal is missed.</returns>
    public static int Run(bool isShort)
    {
        var table = Make(Seed, isShort ? 200 : 4000);
        Console.WriteLine(table.Print());
        return table.Goals.All(goal => goal.Held) ? 0 : 1;
    }

    private static ProofTable Make(ulong seed, int runs)
    {
        var table = new ProofTable(
            "Blunders: one reading of each set is wrong by 0.5 mm; sets without any wrong reading beside",
            string.Create(CultureInfo.InvariantCulture, $"  seed {seed}, {runs} runs for each kind"),
            "characteristic", "readings", "named %", "clean sets flagged %");
        foreach (var test in HonestyCases.All.Where(test => Kinds.Contains(test.Kind)))
            One(table, test, CharacteristicKinds.Find(test.Kind)!, seed, runs);
        return table;
    }

    private static void One(ProofTable table, HonestyCase test, CharacteristicKind kind, ulong seed, int runs)
    {
        var (missed, flagged) = (0, 0);
        Parallel.For(0, runs, i =>
        {
            var source = new DrawSource(seed).For(test.Kind + " blunders", i);
            var (_, readings, options) = test.Draw(source.For("set"));
            if (kind.Evaluate(readings, options) is Core.Outcome<Finding>.Good { Value.Suspects.IsEmpty: false })
                Interlocked.Increment(ref flagged);
            var row = (int)source.For("row").NextUniform(0, readings.Rows.Length);
            var spoiled = Spoiled(readings, row, test.Column, SizeMm * source.For("sign").NextSign());
            if (kind.Evaluate(spoiled, options) is not Core.Outcome<Finding>.Good(var finding) || finding.Suspects.All(suspect => suspect.Row != row + 1))
                Interlocked.Increment(ref missed);
        });
        table.Row(test.Kind, test.Cells.Length.ToString(CultureInfo.InvariantCulture),
            (100.0 * (runs - missed) / runs).ToString("F1", CultureInfo.InvariantCulture), (100.0 * flagged / runs).ToString("F2", CultureInfo.InvariantCulture));
        table.AskShare($"{test.Kind}: the wrong reading is not named, at most 5 %", missed, runs, 1 - LeastFound);
        table.AskShare($"{test.Kind}: something is named in a clean set, at most 1 %", flagged, runs, MostFlagged);
    }

    private static ReadingTable Spoiled(ReadingTable table, int at, string column, double by)
    {
        var row = table.Rows[at];
        var value = row[column] + by;
        return table with
        {
            Rows = table.Rows.SetItem(at, row with
            {
                Numbers = row.Numbers.SetItem(column, value), Typed = row.Typed.SetItem(column, value.ToString("0.0##", CultureInfo.InvariantCulture)),
            }),
        };
    }
}
