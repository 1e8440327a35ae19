using Commission.Core;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Requests;

/// <summary>
/// Verifies the closed parts of a journal, one after the other, while a person works: opening verifies only the open part.
/// A thread of the lowest priority, which reads and never writes.
/// </summary>
public sealed class VerifyWhileIdle : IDisposable
{
    private readonly CancellationTokenSource ended = new();
    private readonly Thread worker;
    private readonly Lock gate = new();
    private readonly List<Problem> faults = [];
    private int parts;

    /// <summary>Begins at once.</summary>
    /// <param name="store">The store; it must stay open until this is disposed of.</param>
    public VerifyWhileIdle(IStoreFolder store)
    {
        worker = new Thread(() => Work(store)) { IsBackground = true, Priority = ThreadPriority.Lowest, Name = "verify" };
        worker.Start();
    }

    /// <summary>Number of closed parts that were verified so far.</summary>
    public int Parts => Volatile.Read(ref parts);

    /// <summary>What does not hold, as far as it was seen.</summary>
    public IReadOnlyList<Problem> Faults
    {
        get
        {
            lock (gate)
                return [.. faults];
        }
    }

    /// <summary>Waits until every closed part was verified.</summary>
    public void Finish() => worker.Join();

    /// <summary>Ends after the part that is being verified.</summary>
    public void Dispose()
    {
        ended.Cancel();
        worker.Join();
        ended.Dispose();
    }

    private void Work(IStoreFolder store)
    {
        try
        {
            while (!ended.IsCancellationRequested && store.VerifyPart(Parts) is { } found)
            {
                Add(found);
                Interlocked.Increment(ref parts);
            }
        }
        catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException)
        {
            Add([new Problem($"a closed part of the journal could not be read: {unreadable.Message.TrimEnd('.')}", "Look at the disk; what is open is not touched by this")]);
        }
    }

    private void Add(IReadOnlyList<Problem> found)
    {
        lock (gate)
            faults.AddRange(found);
    }
}
