using Commission.Practice.Draws;

namespace Commission.Proof.Honesty;

/// <summary>Table B: does U hold what it says, and how often is advice wrong.</summary>
internal static class HonestyTable
{
    private const double LimitScale = 400e-6;

    public static ProofTable Make(ulong seed, int runs)
    {
        var table = new ProofTable(
            "Table B: honesty. Share of runs whose U (95 %) holds the truth, machines and instruments drawn from the declared assumptions",
            string.Create(CultureInfo.InvariantCulture, $"  seed {seed}, {runs} runs for each characteristic"),
            "characteristic", "parameter", "holds %", "with U", "mean U", "mean error", "rms error");
        foreach (var test in HonestyCases.All)
        {
            if (CharacteristicKinds.Find(test.Kind) is { } kind)
                Cover(table, test, kind, seed, runs);
        }

        if (CharacteristicKinds.Find("axis-scale") is { } scale)
            Advise(table, HonestyCases.AxisScale(), scale, seed, runs);
        return table;
    }

    private static void Cover(ProofTable table, HonestyCase test, CharacteristicKind kind, ulong seed, int runs)
    {
        var results = new (double Error, double Half)?[runs, test.Parameters.Length];
        Parallel.For(0, runs, i =>
        {
            var run = test.Run(kind, new DrawSource(seed).For(test.Kind, i));
            for (var p = 0; p < test.Parameters.Length; p++)
                results[i, p] = run.Of(test.Kind, test.Cells[0].Axis, test.Parameters[p]);
        });
        for (var p = 0; p < test.Parameters.Length; p++)
            Judge(table, test, test.Parameters[p], [.. Enumerable.Range(0, runs).Select(i => results[i, p]).OfType<(double Error, double Half)>()], runs);
    }

    private static void Judge(ProofTable table, HonestyCase test, string parameter, (double Error, double Half)[] results, int runs)
    {
        var inside = results.Count(r => Math.Abs(r.Error) <= r.Half);
        var share = results.Length == 0 ? 0 : 100.0 * inside / results.Length;
        double Mean(Func<(double Error, double Half), double> of) => results.Length == 0 ? 0 : results.Average(of);
        table.Row(test.Kind, parameter, share.ToString("F1", CultureInfo.InvariantCulture),
            string.Create(CultureInfo.InvariantCulture, $"{results.Length} of {runs}"), Short(Mean(r => r.Half)), Short(Mean(r => r.Error)),
            Short(Math.Sqrt(Mean(r => r.Error * r.Error))));
        var slack = 300 * Math.Sqrt(0.05 * 0.95 / Math.Max(1, results.Length));
        table.Ask($"{test.Kind} {parameter}: coverage 94 to 97 %", string.Create(CultureInfo.InvariantCulture, $"{share:F1} %"),
            share >= 94 - slack && share <= 97 + slack && results.Length > 0);
    }

    private static string Short(double value) => value.ToString("G3", CultureInfo.InvariantCulture);

    private static void Advise(ProofTable table, HonestyCase test, CharacteristicKind kind, ulong seed, int runs)
    {
        var (changes, withins) = (0, 0);
        Parallel.For(0, runs, i =>
        {
            var perfect = test.Run(kind, new DrawSource(seed).For("nothing wrong", i), state => WithScale(state, 0), Limit);
            if (perfect.Outcome is Core.Outcome<Finding>.Good(var finding) && finding.Advice.Action == AdviceAction.Change)
                Interlocked.Increment(ref changes);
            var source = new DrawSource(seed).For("at the limit", i);
            var sign = source.For("sign").NextSign();
            var edge = test.Run(kind, source, state => WithScale(state, sign * LimitScale), Limit);
            if (edge.Outcome is Core.Outcome<Finding>.Good(var judged) && judged.Verdict == Verdict.Within)
                Interlocked.Increment(ref withins);
        });
        table.AskShare("axis-scale: change advised where nothing is wrong, at most 5.5 %", changes, runs, 0.055);
        table.AskShare("axis-scale: called within although exactly at the limit, at most 5.5 %", withins, runs, 0.055);
    }

    private static Tolerance Limit { get; } = new(LimitScale, "1", "400ppm");

    private static Practice.Machines.MachineState WithScale(Practice.Machines.MachineState state, double scale) =>
        state with { X = state[AxisName.X] with { TrueStepsPerMm = 320 / (1 + scale) } };
}
