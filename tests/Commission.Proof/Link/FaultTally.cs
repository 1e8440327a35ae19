using System.Collections.Concurrent;
using System.Collections.Immutable;

namespace Commission.Proof.Link;

/// <summary>What came of runs with faults; counted from many threads.</summary>
internal sealed record FaultTally(ImmutableArray<LinkFault> Faults, int Each)
{
    public int Runs => Faults.Length * Each;

    /// <summary>Broken rules.</summary>
    public ConcurrentQueue<string> Wrong { get; } = new();

    /// <summary>Runs that did not come to their end in their time while others went on beside them.</summary>
    public ConcurrentQueue<(LinkFault Fault, int Seed, string Told)> Late { get; } = new();

    /// <summary>How many of these did not end alone either: those are no matter of a busy machine, and broken rules.</summary>
    public int Hung { get; private set; }

    public ConcurrentDictionary<LinkFault, int> Ended { get; } = new();

    public ConcurrentDictionary<LinkFault, int> Fell { get; } = new();

    /// <summary>Sentences told, by fault.</summary>
    public ConcurrentDictionary<LinkFault, int> Told { get; } = new();

    /// <summary>How often each sentence was told.</summary>
    public ConcurrentDictionary<string, int> Said { get; } = new();

    public void Count(LinkFault fault, int seed, FaultRun run, string which, bool alone)
    {
        if (run.Ended)
            Add(Ended, fault, 1);
        else if (!alone)
            Late.Enqueue((fault, seed, $"{which}: the run was too late beside the others; it waited at {run.Where}"));
        else
            Hang($"{which}: the run hangs: alone it did not come to its end either; it waits at {run.Where}");
        if (run.Happened && !alone)
            Add(Fell, fault, 1);
        Add(Told, fault, run.Sentences.Count);
        foreach (var sentence in run.Sentences)
            Add(Said, sentence, 1);
        foreach (var violation in run.Violations)
            Wrong.Enqueue($"{which}: {violation}");
    }

    private void Hang(string which)
    {
        Hung++;
        Wrong.Enqueue(which);
    }

    private static void Add<T>(ConcurrentDictionary<T, int> counts, T key, int more) where T : notnull => counts.AddOrUpdate(key, more, (_, count) => count + more);
}
