using System.Collections.Immutable;
using Commission.Practice.Draws;
using Commission.Practice.Populations;

namespace Commission.Proof.Harm;

/// <summary>The same program, its priors and constants unchanged, on populations it was not tuned on. A table without goals.</summary>
internal static class Stress
{
    private static readonly (string Name, Func<Population, Population> Change)[] _populations =
    [
        ("as in the file", population => population),
        ("all errors halved", population => Errors(population, 0.5)),
        ("all errors doubled", population => Errors(population, 2)),
        ("nearly perfect machines (a twenty-fifth)", population => Errors(population, 0.04)),
        ("squareness five times smaller", population => population with { SquarenessMrad = new Law.Scaled(population.SquarenessMrad, 0.2) }),
        ("marks scatter twice as much", population => population with { MarkScatterMm = new Law.Scaled(population.MarkScatterMm, 2) }),
        ("every caliper outside its limit", population => population with { CaliperErrorInLimits = new Law.Uniform(1, 2) }),
        ("everybody careless", population => population with { Hands = [(1, population.Hands.MaxBy(hand => hand.Hand.ReadingSdMm).Hand)] }),
    ];

    public static ProofTable Make(Population population, ulong seed, int machines)
    {
        var table = new ProofTable(
            "Table A, stress: the same program on other invented populations; figures without goals",
            string.Create(CultureInfo.InvariantCulture, $"  seed {seed}, {machines} machines for each; p95 of the worst corner in mm / made worse in %"),
            "population", "leave", "b one reading", "f ten readings, advice", "g plate, joint rule 5 %");
        string[] columns = ["a", "b", "f", "g"];
        Strategy[] strategies = [.. columns.Select(letter => Strategies.All.First(s => s.Name.StartsWith(letter + " ", StringComparison.Ordinal)))];
        foreach (var (name, change) in _populations)
            table.Row([name, .. strategies.Select(strategy => Cell(HarmRun.Over(change(population), strategy, seed, machines)))]);
        return table;
    }

    private static string Cell(Outcome[] all)
    {
        Outcome[] right = [.. all.Where(outcome => outcome.RightNominal)];
        return string.Create(CultureInfo.InvariantCulture,
            $"{HarmRun.Quantile(right.Select(o => o.After), 0.95):F3} / {100.0 * right.Count(o => o.Worse) / right.Length:F1}");
    }

    private static Population Errors(Population population, double factor) => population with
    {
        SquarenessMrad = new Law.Scaled(population.SquarenessMrad, factor),
        Drives = [.. population.Drives.Select(drive => drive with
        {
            ScaleErrorPpm = new Law.Scaled(drive.ScaleErrorPpm, factor),
            LostMotionMm = new Law.Scaled(drive.LostMotionMm, factor),
            PeriodicAmplitudeMm = new Law.Scaled(drive.PeriodicAmplitudeMm, factor),
        })],
    };
}
