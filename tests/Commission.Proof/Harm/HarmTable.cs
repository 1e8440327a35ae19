using System.Globalization;
using Commission.Practice.Populations;
using Commission.Proof.Tables;

namespace Commission.Proof.Harm;

/// <summary>Table A: which strategies make machines worse, and what error they leave.</summary>
internal static class HarmTable
{
    public static ProofTable Make(Population population, ulong seed, int machines)
    {
        var table = new ProofTable(
            "Table A: harm. Error at the worst corner of 400 x 500 mm before and after, on an invented population",
            string.Create(CultureInfo.InvariantCulture,
                $"  seed {seed}, {machines} machines for each strategy, the same machines; worse: by more than 5 % and 10 um"),
            "strategy", "rms mm", "p95 mm", "median mm", "made worse %", "p95 with wrong ratios", "scale ppm", "square mrad", "readings", "min");
        foreach (var strategy in Strategies.All)
        {
            var all = HarmRun.Over(population, strategy, seed, machines);
            Outcome[] right = [.. all.Where(outcome => outcome.RightNominal)];
            table.Row(strategy.Name, Three(HarmRun.RootMeanSquare(right.Select(o => o.After))),
                Three(HarmRun.Quantile(right.Select(o => o.After), 0.95)), Three(HarmRun.Quantile(right.Select(o => o.After), 0.5)),
                One(100.0 * right.Count(o => o.Worse) / right.Length), Three(HarmRun.Quantile(all.Select(o => o.After), 0.95)),
                (1e6 * HarmRun.RootMeanSquare(right.Select(o => o.ScaleError))).ToString("F0", CultureInfo.InvariantCulture),
                Three(1e3 * HarmRun.RootMeanSquare(right.Select(o => o.Squareness))), One(all.Average(o => o.Readings)),
                One(all.Average(o => o.Minutes)));
        }

        return table;
    }

    private static string One(double value) => value.ToString("F1", CultureInfo.InvariantCulture);

    private static string Three(double value) => value.ToString("F3", CultureInfo.InvariantCulture);
}
