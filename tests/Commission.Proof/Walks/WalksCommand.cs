using Commission.App.Rehearsal;
using Commission.Core.Procedures;
using Commission.Practice.Bench;

namespace Commission.Proof.Walks;

/// <summary><c>walks [--seeds N]</c>: the whole order of work on so many practice machines: how often the truth lay inside U, what was advised on ordinary machines and on machines with nothing wrong, and whether each advice carried out shrinks its error.</summary>
internal static class WalksCommand
{
    // Truth is asked of 95 %. Results of one walk share instruments and a hand: for one quantity a walk counts as one chance, whatever it holds.
    private const double LeastInside = 0.95;
    private const int FewestOfOne = 30;

    // With nothing wrong a limit of 95 % is still crossed by chance; of all findings together no more than this may raise anything.
    private const double MostRaised = 0.01;

    /// <summary>Walks and prints.</summary>
    /// <returns>0 where every walk ended and the shares hold, else 1.</returns>
    public static int Run(int seeds)
    {
        ulong[] all = [.. Enumerable.Range(1, seeds).Select(seed => (ulong)seed)];
        var held = Ordinary("ordinary machines", all, PracticeBench.Heron);
        held &= Ordinary("ordinary machines without switches", all, WalkScene.WithoutSwitches);
        held &= NothingWrong("machines with nothing wrong", all, WalkScene.NothingWrong);
        held &= NothingWrong("machines without switches and with nothing wrong", all, WalkScene.NothingWrongWithoutSwitches);
        held &= Advice(all);
        return held ? 0 : 1;
    }

    private static bool Ordinary(string which, ulong[] seeds, Func<ulong, PracticeBench> bench)
    {
        WalkedScene[] scenes = [.. seeds.Select(seed => WalkScene.Walked(bench(seed), seed, OrderOfWork.Ids))];
        var judged = scenes.SelectMany(scene => scene.Results).Where(result => result.Inside is not null).ToArray();
        var unfinished = scenes.Sum(scene => scene.Ends.Count(end => end.How != "completed"));
        var held = unfinished == 0;
        Say($"Walks: {seeds.Length} {which}, {judged.Length} results with U, {unfinished} runs not completed");
        foreach (var (scene, seed) in scenes.Zip(seeds))
        {
            foreach (var (procedure, how) in scene.Ends.Where(end => end.How != "completed"))
                Say($"  seed {seed}: {procedure} ended {how}");
        }

        foreach (var group in judged.GroupBy(result => $"{result.Characteristic} {Family(result)}").OrderBy(group => group.Key, StringComparer.Ordinal))
        {
            var inside = group.Count(result => result.Inside == true);
            var most = WalkScene.MostOf(seeds.Length) / (double)seeds.Length * group.Count();
            var good = group.Count() < FewestOfOne || group.Count() - inside <= most;
            held &= good;
            Say($"  {group.Key,-38} {inside,5} of {group.Count(),5} inside U{(good ? "" : "  MISSED")}");
        }

        var share = judged.Count(result => result.Inside == true) / (double)Math.Max(1, judged.Length);
        held &= share >= LeastInside;
        Say($"  {"all",-38} {100 * share:0.0} % inside U, goal {100 * LeastInside:0} %{(share >= LeastInside ? "" : "  MISSED")}");
        Advised(scenes);
        return held;
    }

    private static bool NothingWrong(string which, ulong[] seeds, Func<ulong, PracticeBench> bench)
    {
        WalkedScene[] scenes = [.. seeds.Select(seed => WalkScene.Walked(bench(seed), seed, OrderOfWork.Ids))];
        Say($"Walks: {seeds.Length} {which}");
        Advised(scenes);
        var held = true;
        foreach (var group in scenes.SelectMany(scene => scene.Findings).GroupBy(found => found.Procedure))
        {
            var raised = group.Count(found => found.Raises);
            if (raised <= WalkScene.MostOf(group.Count()))
                continue;
            held = false;
            Say($"  {group.Key}: {raised} of {group.Count()} findings raised  MISSED");
        }

        WalkFinding[] all = [.. scenes.SelectMany(scene => scene.Findings)];
        var few = all.Count(found => found.Raises) <= MostRaised * all.Length;
        Say($"  {all.Count(found => found.Raises)} of {all.Length} findings raised anything, goal at most {100 * MostRaised:0} %{(few ? "" : "  MISSED")}");
        return held && few;
    }

    private static bool Advice(ulong[] seeds)
    {
        Say($"Advice carried out and measured again, {seeds.Length} machines each");
        var held = true;
        foreach (var trial in AdviceTrials.All)
        {
            var outcomes = seeds.Select(seed => (Seed: seed, Outcome: trial.Run(seed))).ToArray();
            var missed = outcomes.Where(one => one.Outcome.Missed is not null).ToArray();
            var good = missed.Length <= WalkScene.MostOf(seeds.Length);
            held &= good;
            Say($"  {trial.Name,-48} {outcomes.Average(one => one.Outcome.Before),9:G3} became {outcomes.Average(one => one.Outcome.Left),9:G3}, foretold at most {outcomes.Average(one => one.Outcome.Foretold),9:G3}; not shown in {missed.Length}{(good ? "" : "  MISSED")}");
            foreach (var (seed, outcome) in missed.Take(3))
                Say($"    seed {seed}: {outcome.Missed}");
        }

        return held;
    }

    private static void Advised(WalkedScene[] scenes)
    {
        foreach (var group in scenes.SelectMany(scene => scene.Findings).Where(found => found.Finding.Advice.Action is AdviceAction.FindTheFault or AdviceAction.Change)
            .GroupBy(found => (found.Procedure, found.Finding.Advice.Action)).OrderByDescending(group => group.Count()))
            Say($"  advised {group.Count(),4} times: {(group.Key.Action == AdviceAction.Change ? "change" : "find the fault")}, {group.Key.Procedure}");
    }

    private static string Family(WalkResult result) => result.Parameter.Split('[')[0];

    private static void Say(FormattableString text) => Console.WriteLine(text.ToString(CultureInfo.InvariantCulture));
}
