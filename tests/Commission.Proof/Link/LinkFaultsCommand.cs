using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using Commission.Core;
using Commission.Core.Machines.Dialects;
using Commission.Core.Procedures;

namespace Commission.Proof.Link;

/// <summary><c>link-faults [--short] [--seeds N]</c>: every fault, 100 seeds each, 5 in the short form; half of them with each dialect. With <c>--only FAULT</c> also what the person was told.
/// It ends with 1 where a rule was broken, and with <see cref="TooLate"/> where none was but a run did not come to its end in its time.</summary>
internal static class LinkFaultsCommand
{
    /// <summary>Exit code: no violation, but a run was too late, as on a busy machine; worth one repetition, which a violation is not.</summary>
    internal const int TooLate = 3;

    // Longer than any run that goes on at all.
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(130);

    internal static int Run(bool brief, int? seeds, LinkFault? only)
    {
        var each = seeds ?? (brief ? 5 : 100);
        var procedure = ProcedureReader.Read("places.yaml", FaultRun.Procedure).Match(
            read => read, problems => throw new InvalidOperationException(string.Join(Environment.NewLine, problems)));
        var cases = Enum.GetValues<LinkFault>().Where(fault => only is null || fault == only)
            .SelectMany(fault => Enumerable.Range(1, each).Select(seed => (Fault: fault, Seed: seed))).ToList();
        var wrong = new ConcurrentQueue<string>();
        var late = new ConcurrentQueue<string>();
        var ended = new ConcurrentDictionary<LinkFault, int>();
        var told = new ConcurrentDictionary<LinkFault, int>();
        var fell = new ConcurrentDictionary<LinkFault, int>();
        var said = new ConcurrentDictionary<string, int>();
        var watch = Stopwatch.StartNew();
        // They mostly wait for their machines: many more at once than there are cores.
        Parallel.ForEachAsync(cases, new ParallelOptions { MaxDegreeOfParallelism = 96 }, async (one, _) =>
        {
            var dialect = ShippedDialects.Find(ShippedDialects.Names[one.Seed % ShippedDialects.Names.Length])!;
            using var run = new FaultRun(FaultRun.InItsTime(dialect), procedure, one.Fault, one.Seed);
            try
            {
                await run.RunAsync().WaitAsync(Longest, CancellationToken.None).ConfigureAwait(false);
            }
            catch (TimeoutException)
            {
                // Told below with all that did not end.
            }

            if (run.Ended)
                ended.AddOrUpdate(one.Fault, 1, (_, count) => count + 1);
            else
                late.Enqueue($"{one.Fault}, seed {one.Seed}, {dialect.Name}: the run did not come to its end; it waits at {run.Where}");
            if (run.Happened)
                fell.AddOrUpdate(one.Fault, 1, (_, count) => count + 1);
            told.AddOrUpdate(one.Fault, run.Sentences.Count, (_, count) => count + run.Sentences.Count);
            foreach (var sentence in run.Sentences)
                said.AddOrUpdate(sentence, 1, (_, count) => count + 1);
            foreach (var violation in run.Violations)
                wrong.Enqueue($"{one.Fault}, seed {one.Seed}, {dialect.Name}: {violation}");
        }).GetAwaiter().GetResult();
        foreach (var fault in cases.Select(one => one.Fault).Distinct())
            Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"link-faults: {fault}: {ended.GetValueOrDefault(fault)} of {each} runs carried to their end, the fault fell into {fell.GetValueOrDefault(fault)}, {told.GetValueOrDefault(fault)} sentences"));
        foreach (var fault in cases.Select(one => one.Fault).Distinct().Where(fault => !fell.ContainsKey(fault)))
            wrong.Enqueue($"{fault} fell into no run: nothing was tried");
        if (only is not null)
            foreach (var one in said.OrderByDescending(one => one.Value))
                Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"link-faults: told {one.Value} times: {PlainText.Of(one.Key)}"));
        foreach (var one in wrong.Concat(late))
            Console.Out.WriteLine("link-faults: " + one);
        Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"link-faults: {cases.Count} runs in {watch.Elapsed.TotalSeconds:F0} s, {wrong.Count} violations (no motion without its confirmation, no reading away from its place, clear sentences), {late.Count} not ended"));
        return !wrong.IsEmpty ? 1 : late.IsEmpty ? 0 : TooLate;
    }
}
