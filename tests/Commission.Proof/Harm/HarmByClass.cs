using Commission.Practice.Populations;

namespace Commission.Proof.Harm;

/// <summary>Table A by kind of drive and by hand: a figure over all machines could hide a class that suffers.</summary>
internal static class HarmByClass
{
    public static ProofTable Make(Population population, IReadOnlyList<(Strategy Strategy, Outcome[] All)> results)
    {
        var table = new ProofTable(
            "Table A, by kind of drive and by hand: p95 of the worst corner in mm / made worse in %",
            "  the machines of the table above with the right ratio",
            ["class", .. results.Select(result => result.Strategy.Name[..1]), "goal of g, worse %"]);
        for (var i = 0; i < population.Drives.Length; i++)
        {
            var drive = i;
            Row(table, population.Drives[i].Id, results, outcome => outcome.Drive == drive);
        }

        foreach (var hand in population.Hands.Select(hand => hand.Hand.Name))
            Row(table, hand + " hands", results, outcome => outcome.Hand == hand);
        return table;
    }

    private static string? KnownMiss(string name) => name.StartsWith("careless", StringComparison.Ordinal)
        ? "not their slips: without any of them it stays (`causes`); no single cause taken away mends it"
        : null;

    private static void Row(ProofTable table, string name, IReadOnlyList<(Strategy Strategy, Outcome[] All)> results, Func<Outcome, bool> belongs)
    {
        table.Row([name, .. results.Select(result => Cell([.. result.All.Where(o => o.RightNominal && belongs(o))])), "1.5"]);
        foreach (var (_, all) in results.Where(result => result.Strategy.Kind == "plate"))
        {
            Outcome[] own = [.. all.Where(o => o.RightNominal && belongs(o))];
            table.AskShare($"plate with joint rule, {name}: made worse, at most 1.5 %", own.Count(o => o.Worse), own.Length, 0.015, KnownMiss(name));
        }
    }

    private static string Cell(Outcome[] own) => own.Length == 0 ? "none" : string.Create(CultureInfo.InvariantCulture,
        $"{HarmRun.Quantile(own.Select(o => o.After), 0.95):F2} / {100.0 * own.Count(o => o.Worse) / own.Length:F1}");
}
