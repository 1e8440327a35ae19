using System.Text;
using Commission.Core.Machines.Dialects;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Controllers;

/// <summary>What became of something to be written.</summary>
internal enum Fate
{
    /// <summary>All bytes left.</summary>
    Left,

    /// <summary>Its time was over before its first byte could leave.</summary>
    Voided,

    /// <summary>STOP or the end of the link came first.</summary>
    Dropped,

    /// <summary>It was begun and the port or a STOP ended it: how much of it left is not known.</summary>
    Broken,
}

/// <summary>
/// The writing thread. STOP goes before everything: it ends a write that is under way, throws away what waits, and goes out twice.
/// It needs no other thread of the program to be awake.
/// </summary>
internal sealed class LinkWriter : IDisposable
{
    private static readonly TimeSpan LongestWrite = TimeSpan.FromSeconds(2);

    private readonly ITransport transport;
    private readonly byte[] stopBytes;
    private readonly Func<TimeSpan> clock;
    private readonly Action<Exception> failed;
    private readonly Lock turn = new();
    private readonly Queue<Waiting> waiting = new();
    private readonly SemaphoreSlim signal = new(0);
    private readonly Thread thread;
    private (Waiting One, CancellationTokenSource Limit)? writing;
    private volatile bool stopping;
    private volatile bool ending;
    private volatile bool stopLeft = true;
    private long epoch;
    private long stopsAsked;
    private long stopsWritten;

    public LinkWriter(ITransport transport, DialectStop stop, Func<TimeSpan> clock, Action<Exception> failed)
    {
        (this.transport, this.clock, this.failed) = (transport, clock, failed);
        stopBytes = Encoding.Latin1.GetBytes(stop.How == StopForm.Byte ? stop.Code + stop.Code : $"{stop.Spoil}\n{stop.Code}\n{stop.Code}\n");
        thread = new Thread(Run) { IsBackground = true, Name = "controller writer", Priority = ThreadPriority.Highest };
        thread.Start();
    }

    private sealed record Waiting(byte[] Bytes, TimeSpan NotAfter, long MeantIn)
    {
        public TaskCompletionSource<Fate> Done { get; } = new(TaskCreationOptions.RunContinuationsAsynchronously);
    }

    /// <summary>Counts the STOPs and what else makes void: what was meant before one is not sent after it.</summary>
    public long Epoch => Interlocked.Read(ref epoch);

    /// <summary>Queues bytes that leave in one write, unless a STOP has come since <paramref name="meantIn"/>.</summary>
    public Task<Fate> SendAsync(string text, TimeSpan notAfter, long meantIn)
    {
        lock (turn)
        {
            if (ending || meantIn != Epoch)
                return Task.FromResult(Fate.Dropped);
            var one = new Waiting(Encoding.Latin1.GetBytes(text), notAfter, meantIn);
            waiting.Enqueue(one);
            signal.Release();
            return one.Done.Task;
        }
    }

    /// <summary>Trust is lost: what was meant before and has not left stays here. No STOP is sent by this.</summary>
    /// <returns>The epoch that begins with it.</returns>
    public long Void()
    {
        var now = Interlocked.Increment(ref epoch);
        Drop(now, alsoUnderWay: false);
        return now;
    }

    /// <summary>STOP. Returns at once.</summary>
    /// <returns>The epoch that begins with it: what is meant in it leaves after this STOP.</returns>
    /// <remarks>
    /// The thread is told before any lock is taken: whoever holds one may have been put to sleep by the system. After the end it does
    /// nothing, and throws nothing: signals and screens may ask for STOP at any time.
    /// </remarks>
    public long Stop()
    {
        var now = Interlocked.Increment(ref epoch);
        Interlocked.Increment(ref stopsAsked);
        stopping = true;
        signal.Release();
        Drop(now, alsoUnderWay: true);
        return now;
    }

    // Only what was meant before: STOP may be out already, and the next question be under way.
    private void Drop(long now, bool alsoUnderWay)
    {
        lock (turn)
        {
            while (waiting.TryPeek(out var one) && one.MeantIn < now)
                waiting.Dequeue().Done.SetResult(Fate.Dropped);
            if (alsoUnderWay && writing is { } under && under.One.MeantIn < now)
                under.Limit.Cancel();
        }
    }

    /// <summary>Waits until every STOP that was asked for up to now is out.</summary>
    /// <returns>Whether the last one left; false also where the port refused it, or the end of the link came first.</returns>
    public bool WaitStopLeft(TimeSpan longest)
    {
        var asked = Interlocked.Read(ref stopsAsked);
        bool Written() => Interlocked.Read(ref stopsWritten) >= asked;
        SpinWait.SpinUntil(() => Written() || !thread.IsAlive, longest);
        return Written() && stopLeft;
    }

    private void Run()
    {
        transport.Hurry();
        while (true)
        {
            signal.Wait();
            var end = ending;
            if (stopping)
            {
                stopping = false;
                // Counted before it is written: one that is asked for meanwhile is not out by this.
                var asked = Interlocked.Read(ref stopsAsked);
                stopLeft = WriteStop();
                Interlocked.Exchange(ref stopsWritten, asked);
            }
            else if (Next() is { } item)
                item.Done.SetResult(Write(item));
            else if (end)
                return;
        }
    }

    private Waiting? Next()
    {
        lock (turn)
        {
            if (!waiting.TryDequeue(out var next))
                return null;
            writing = (next, new CancellationTokenSource(LongestWrite));
            return next;
        }
    }

    private Fate Write(Waiting one)
    {
        try
        {
            if (clock() > one.NotAfter)
                return Fate.Voided;
            if (one.MeantIn != Epoch)
                return Fate.Dropped;
            transport.Write(one.Bytes, writing!.Value.Limit.Token);
            return Fate.Left;
        }
        catch (OperationCanceledException)
        {
            // A part may be out: a half line is never ended by a line end; STOP spoils it first.
            if (one.MeantIn == Epoch && !ending)
                failed(new IOException("the port takes no more bytes"));
            return Fate.Broken;
        }
        catch (Exception gone) when (Gone(gone))
        {
            failed(gone);
            return Fate.Broken;
        }
        finally
        {
            lock (turn)
            {
                writing!.Value.Limit.Dispose();
                writing = null;
            }
        }
    }

    private bool WriteStop()
    {
        try
        {
            transport.Discard();
        }
        catch (Exception refused) when (Gone(refused))
        {
            // What waits in the port then goes out before STOP; that is no reason to keep STOP back.
        }

        try
        {
            using var limit = new CancellationTokenSource(LongestWrite);
            transport.Write(stopBytes, limit.Token);
            return true;
        }
        catch (Exception gone) when (gone is OperationCanceledException || Gone(gone))
        {
            failed(gone);
            return false;
        }
    }

    private static bool Gone(Exception what) =>
        what is IOException or ObjectDisposedException or InvalidOperationException or UnauthorizedAccessException or NotSupportedException or TimeoutException;

    /// <summary>Ends the thread once a STOP that was asked for is out.</summary>
    public void Dispose()
    {
        lock (turn)
        {
            ending = true;
            while (waiting.TryDequeue(out var one))
                one.Done.SetResult(Fate.Dropped);
            if (!stopping)
                writing?.Limit.Cancel();
            signal.Release(2);
        }
        // The signal is left to the collector: STOP may be asked for from any thread while this ends and after it.
        thread.Join(TimeSpan.FromSeconds(3));
    }
}
