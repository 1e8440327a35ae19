using System.Collections.Concurrent;
using Terminal.Gui.App;

namespace Commission.App.Screens;

/// <summary>Brings work of other threads to the screen's thread, between two turns of its loop and outside the library's timer lock.</summary>
public sealed class UiPump : SynchronizationContext, IDisposable
{
    private readonly ConcurrentQueue<Action> _work = new();
    private readonly IApplication _app;
    private readonly int _screenThread = Environment.CurrentManagedThreadId;
    private long _turns;

    /// <summary>Installs the pump; to be called on the screen's thread.</summary>
    public UiPump(IApplication app)
    {
        _app = app;
        _app.Iteration += Turn;
    }

    /// <summary>Turns of the screen's loop so far; read from any thread.</summary>
    public long Turns => Volatile.Read(ref _turns);

    /// <summary>Queues work from any thread; never blocks.</summary>
    public void Post(Action work) => _work.Enqueue(work);

    /// <inheritdoc/>
    public override void Post(SendOrPostCallback d, object? state) => _work.Enqueue(() => d(state));

    /// <inheritdoc/>
    public override void Send(SendOrPostCallback d, object? state)
    {
        if (Environment.CurrentManagedThreadId == _screenThread)
        {
            d(state);
            return;
        }

        using var done = new ManualResetEventSlim();
        _work.Enqueue(() =>
        {
            try
            {
                d(state);
            }
            finally
            {
                done.Set();
            }
        });
        done.Wait();
    }

    /// <inheritdoc/>
    public override SynchronizationContext CreateCopy() => this;

    /// <inheritdoc/>
    public void Dispose() => _app.Iteration -= Turn;

    private void Turn(object? sender, EventArgs e)
    {
        Volatile.Write(ref _turns, _turns + 1);
        // Each session that begins puts the library's own context back.
        if (Current != this)
        {
            SetSynchronizationContext(this);
        }

        for (var left = _work.Count; left > 0 && _work.TryDequeue(out var work); left--)
        {
            work();
        }
    }
}
