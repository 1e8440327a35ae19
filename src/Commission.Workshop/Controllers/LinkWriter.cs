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
}

/// <summary>
/// The writing thread. STOP goes before everything: it ends a write that is under way, throws away what waits, and goes out twice.
/// It needs no other thread of the program to be awake.
/// </summary>
internal sealed class LinkWriter : IDisposable
{
    private static readonly TimeSpan LongestWrite = TimeSpan.FromSeconds(2);

    private readonly ITransport transport;
    private readonly DialectStop stop;
    private readonly Func<TimeSpan> clock;
    private readonly Action<Exception> failed;
    private readonly Lock turn = new();
    private readonly Queue<(byte[] Bytes, TimeSpan NotAfter, TaskCompletionSource<Fate> Done)> waiting = new();
    private readonly SemaphoreSlim signal = new(0);
    private readonly Thread thread;
    private readonly ManualResetEventSlim stopLeft = new(true);
    private CancellationTokenSource? writing;
    private bool stopping;
    private bool ending;
    private long epoch;

    public LinkWriter(ITransport transport, DialectStop stop, Func<TimeSpan> clock, Action<Exception> failed)
    {
        (this.transport, this.stop, this.clock, this.failed) = (transport, stop, clock, failed);
        thread = new Thread(Run) { IsBackground = true, Name = "controller writer", Priority = ThreadPriority.AboveNormal };
        thread.Start();
    }

    /// <summary>Counts the STOPs: what was meant before one is not sent after it.</summary>
    public long Epoch => Interlocked.Read(ref epoch);

    /// <summary>Queues bytes that leave in one write, unless a STOP has come since <paramref name="meantIn"/>.</summary>
    public Task<Fate> SendAsync(string text, TimeSpan notAfter, long meantIn)
    {
        lock (turn)
        {
            if (ending || meantIn != epoch)
                return Task.FromResult(Fate.Dropped);
            var done = new TaskCompletionSource<Fate>(TaskCreationOptions.RunContinuationsAsynchronously);
            waiting.Enqueue((Encoding.Latin1.GetBytes(text), notAfter, done));
            signal.Release();
            return done.Task;
        }
    }

    /// <summary>STOP. Returns at once.</summary>
    public void Stop()
    {
        lock (turn)
        {
            epoch++;
            stopping = true;
            stopLeft.Reset();
            while (waiting.TryDequeue(out var one))
                one.Done.SetResult(Fate.Dropped);
            writing?.Cancel();
            signal.Release();
        }
    }

    /// <summary>Waits until a STOP that was asked for is out.</summary>
    public bool WaitStopLeft(TimeSpan longest) => stopLeft.Wait(longest);

    private void Run()
    {
        while (true)
        {
            signal.Wait();
            (byte[] Bytes, TimeSpan NotAfter, TaskCompletionSource<Fate> Done)? next = null;
            var (stopNow, end) = (false, false);
            lock (turn)
            {
                (stopNow, stopping, end) = (stopping, false, ending);
                if (!stopNow && waiting.TryDequeue(out var one))
                {
                    next = one;
                    writing = new CancellationTokenSource(LongestWrite);
                }
            }
            if (stopNow)
            {
                WriteStop();
                lock (turn)
                    if (!stopping)
                        stopLeft.Set();
            }
            else if (next is { } item)
                item.Done.SetResult(Write(item.Bytes, item.NotAfter));
            if (end && !stopNow)
                return;
        }
    }

    private Fate Write(byte[] bytes, TimeSpan notAfter)
    {
        if (clock() > notAfter)
            return Fate.Voided;
        try
        {
            transport.Write(bytes, writing!.Token);
            return Fate.Left;
        }
        catch (OperationCanceledException)
        {
            // A part may be out: a half line is never ended by a line end; STOP spoils it first.
            bool asked;
            lock (turn)
                asked = stopping || ending;
            if (!asked)
                failed(new IOException("the port takes no more bytes"));
            return Fate.Dropped;
        }
        catch (Exception gone) when (gone is IOException or ObjectDisposedException or InvalidOperationException or UnauthorizedAccessException)
        {
            failed(gone);
            return Fate.Dropped;
        }
        finally
        {
            lock (turn)
            {
                writing!.Dispose();
                writing = null;
            }
        }
    }

    private void WriteStop()
    {
        var text = stop.How == StopForm.Byte ? stop.Code + stop.Code : $"{stop.Spoil}\n{stop.Code}\n{stop.Code}\n";
        using var limit = new CancellationTokenSource(LongestWrite);
        try
        {
            transport.Write(Encoding.Latin1.GetBytes(text), limit.Token);
        }
        catch (Exception gone) when (gone is IOException or ObjectDisposedException or InvalidOperationException or OperationCanceledException or UnauthorizedAccessException)
        {
            failed(gone);
        }
    }

    /// <summary>Ends the thread once a STOP that was asked for is out.</summary>
    public void Dispose()
    {
        lock (turn)
        {
            ending = true;
            while (waiting.TryDequeue(out var one))
                one.Done.SetResult(Fate.Dropped);
            if (!stopping)
                writing?.Cancel();
            signal.Release(2);
        }
        thread.Join(TimeSpan.FromSeconds(3));
        signal.Dispose();
        stopLeft.Dispose();
    }
}
