using System.Collections.Concurrent;
using System.Collections.Immutable;

namespace Commission.Proof.Link;

/// <summary>What came of runs with faults; counted from many threads.</summary>
internal sealed record FaultTally(ImmutableArray<LinkFault> Faults, int Each)
{
    public int Runs => Faults.Length * Each;

    /// <summary>Broken rules.</summary>
    public ConcurrentQueue<string> Wrong { get; } = new();

    /// <summary>Runs that did not come to their end in their time.</summary>
    public ConcurrentQueue<string> Late { get; } = new();

    public ConcurrentDictionary<LinkFault, int> Ended { get; } = new();

    public ConcurrentDictionary<LinkFault, int> Fell { get; } = new();

    /// <summary>Sentences told, by fault.</summary>
    public ConcurrentDictionary<LinkFault, int> Told { get; } = new();

    /// <summary>How often each sentence was told.</summary>
    public ConcurrentDictionary<string, int> Said { get; } = new();

    public void Count(LinkFault fault, FaultRun run, string which)
    {
        if (run.Ended)
            Add(Ended, fault, 1);
        else
            Late.Enqueue($"{which}: the run did not come to its end; it waits at {run.Where}");
        if (run.Happened)
            Add(Fell, fault, 1);
        Add(Told, fault, run.Sentences.Count);
        foreach (var sentence in run.Sentences)
            Add(Said, sentence, 1);
        foreach (var violation in run.Violations)
            Wrong.Enqueue($"{which}: {violation}");
    }

    private static void Add<T>(ConcurrentDictionary<T, int> counts, T key, int more) where T : notnull => counts.AddOrUpdate(key, more, (_, count) => count + more);
}
