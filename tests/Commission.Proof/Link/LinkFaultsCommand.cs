using System.Diagnostics;
using Commission.Core;
using Commission.Core.Machines.Dialects;
using Commission.Core.Procedures;

namespace Commission.Proof.Link;

/// <summary><c>link-faults [--short] [--seeds N]</c>: every fault, 100 seeds each, 5 in the short form; half of them with each dialect. With <c>--only FAULT</c> also what the person was told.
/// A run that did not end in its time beside the others is carried out again alone: if it ends then the machine was too busy, else it hangs. It ends with 1 where a rule was broken or a run hangs.</summary>
internal static class LinkFaultsCommand
{
    // Longer than any run that goes on at all.
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(130);

    internal static int Run(bool brief, int? seeds, LinkFault? only)
    {
        var each = seeds ?? (brief ? 5 : 100);
        var watch = Stopwatch.StartNew();
        var tally = Try(each, only);
        foreach (var fault in tally.Faults)
            Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"link-faults: {fault}: {tally.Ended.GetValueOrDefault(fault)} of {each} runs carried to their end, the fault fell into {tally.Fell.GetValueOrDefault(fault)}, {tally.Told.GetValueOrDefault(fault)} sentences"));
        if (only is not null)
            foreach (var one in tally.Said.OrderByDescending(one => one.Value))
                Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"link-faults: told {one.Value} times: {PlainText.Of(one.Key)}"));
        foreach (var one in tally.Wrong.Concat(tally.Late.Select(late => late.Told)))
            Console.Out.WriteLine("link-faults: " + one);
        Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"link-faults: {tally.Runs} runs in {watch.Elapsed.TotalSeconds:F0} s, {tally.Wrong.Count} violations (no motion without its confirmation, no reading away from its place, clear sentences), {tally.Late.Count} too late beside the others, {tally.Hung} of them also alone"));
        return tally.Wrong.IsEmpty ? 0 : 1;
    }

    /// <summary>Carries out so many runs of every fault, or of one.</summary>
    internal static FaultTally Try(int each, LinkFault? only = null)
    {
        var procedure = ProcedureReader.Read("places.yaml", FaultRun.Procedure).Match(
            read => read, problems => throw new InvalidOperationException(string.Join(Environment.NewLine, problems)));
        var tally = new FaultTally([.. Enum.GetValues<LinkFault>().Where(fault => only is null || fault == only)], each);
        var cases = tally.Faults.SelectMany(fault => Enumerable.Range(1, each).Select(seed => (Fault: fault, Seed: seed)));
        // They mostly wait for their machines: many more at once than there are cores.
        Parallel.ForEachAsync(cases, new ParallelOptions { MaxDegreeOfParallelism = 96 }, async (one, _) => await CarryOutAsync(tally, procedure, one.Fault, one.Seed, alone: false).ConfigureAwait(false)).GetAwaiter().GetResult();
        foreach (var late in tally.Late)
            CarryOutAsync(tally, procedure, late.Fault, late.Seed, alone: true).GetAwaiter().GetResult();
        foreach (var fault in tally.Faults.Where(fault => !tally.Fell.ContainsKey(fault)))
            tally.Wrong.Enqueue($"{fault} fell into no run: nothing was tried");
        return tally;
    }

    private static async Task CarryOutAsync(FaultTally tally, Procedure procedure, LinkFault fault, int seed, bool alone)
    {
        var dialect = ShippedDialects.Find(ShippedDialects.Names[seed % ShippedDialects.Names.Length])!;
        using var run = new FaultRun(FaultRun.InItsTime(dialect), procedure, fault, seed);
        try
        {
            await run.RunAsync().WaitAsync(Longest, CancellationToken.None).ConfigureAwait(false);
        }
        catch (TimeoutException)
        {
            // Told with all that did not end.
        }

        tally.Count(fault, seed, run, $"{fault}, seed {seed}, {dialect.Name}", alone);
    }
}
