using System.Collections.Concurrent;
using Commission.Core.Readings;
using Commission.Practice.Draws;

namespace Commission.Proof.Honesty;

/// <summary>
/// One reading of each set is wrong by half a millimetre; how often is it named, and how often is anything named where nothing is wrong.
/// Each kind twice: with the five-minute study of the hand, and without one, because other checks answer then.
/// </summary>
internal static class Blunders
{
    private const double SizeMm = 0.5;
    private const double LeastFound = 0.95;
    private const double MostFlagged = 0.01;

    // Half a millimetre is two standard deviations of a tape: no test that leaves clean sets alone can name it.
    private const string Tape = "squareness";

    private const ulong Seed = 20261125;

    /// <summary>Prints the table.</summary>
    /// <returns>0; 1 where a goal is missed.</returns>
    public static int Run(bool isShort, int? runs = null) => Make(Seed, runs ?? (isShort ? 120 : 5000)).Show();

    private static ProofTable Make(ulong seed, int runs)
    {
        var table = new ProofTable(
            "Blunders: one reading of each set is wrong by 0.5 mm; sets without any wrong reading beside",
            string.Create(CultureInfo.InvariantCulture, $"  seed {seed}, {runs} runs for each kind, with a study of the hand and without"),
            "characteristic", "readings", "study", "named %", "clean sets flagged %", "what was said of clean sets");
        foreach (var test in HonestyCases.All)
        {
            foreach (var study in new[] { true, false })
                One(table, test, CharacteristicKinds.Find(test.Kind)!, study, seed, runs);
        }

        return table;
    }

    private static void One(ProofTable table, HonestyCase test, CharacteristicKind kind, bool study, ulong seed, int runs)
    {
        var (missed, flagged) = (0, 0);
        var said = new ConcurrentDictionary<string, int>();
        Parallel.For(0, runs, i =>
        {
            var source = new DrawSource(seed).For(test.Kind + " blunders", i);
            var (_, readings, drawn) = test.Draw(source.For("set"));
            var options = study ? drawn : drawn with { Hand = null };
            if (kind.Evaluate(readings, options) is Core.Outcome<Finding>.Good { Value.Suspects: { IsEmpty: false } suspects })
            {
                Interlocked.Increment(ref flagged);
                foreach (var reason in suspects.Select(suspect => Start(suspect.Reason)).Distinct())
                    said.AddOrUpdate(reason, 1, (_, count) => count + 1);
            }

            var row = (int)source.For("row").NextUniform(0, readings.Rows.Length);
            var spoiled = Spoiled(readings, row, test.Column, SizeMm * source.For("sign").NextSign());
            if (kind.Evaluate(spoiled, options) is not Core.Outcome<Finding>.Good(var finding) || finding.Suspects.All(suspect => suspect.Row != row + 1))
                Interlocked.Increment(ref missed);
        });
        var words = study ? test.Kind : test.Kind + " without a study";
        table.Row(test.Kind, test.Cells.Length.ToString(CultureInfo.InvariantCulture), study ? "yes" : "no",
            (100.0 * (runs - missed) / runs).ToString("F1", CultureInfo.InvariantCulture), (100.0 * flagged / runs).ToString("F2", CultureInfo.InvariantCulture),
            string.Join(", ", said.OrderByDescending(pair => pair.Value).Take(3).Select(pair => $"{pair.Key} {pair.Value}")));
        if (test.Kind != Tape)
            table.AskShare($"{words}: the wrong reading is not named, at most 5 %", missed, runs, 1 - LeastFound);
        table.AskShare($"{words}: something is named in a clean set, at most 1 %", flagged, runs, MostFlagged);
    }

    // Reasons carry numbers: the words before the first one tell which check it was.
    private static string Start(string reason) => string.Join(' ', reason.Split(' ').TakeWhile(word => !word.Any(char.IsAsciiDigit)).Take(5));

    private static ReadingTable Spoiled(ReadingTable table, int at, string column, double by)
    {
        var row = table.Rows[at];
        var value = row[column] + by;
        return table with
        {
            Rows = table.Rows.SetItem(at, row with
            {
                Numbers = row.Numbers.SetItem(column, value),
                Typed = row.Typed.SetItem(column, value.ToString("0.0##", CultureInfo.InvariantCulture)),
            }),
        };
    }
}
