using System.Runtime.CompilerServices;
using Commission.App.Screens;
using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Keys;

namespace Commission.Proof.Screens;

/// <summary><c>screen-stand LOG</c>: the window of the program over a desk that breaks on demand, so that every kind of end can be tried in a real terminal. What would have been sent to a machine stands in LOG.</summary>
internal sealed class StandCommand(string log) : ISheetDesk
{
    private static readonly SheetKey[] Ways =
    [
        new("M", "move", "move"), new("U", "break the screen's thread", "break-screen"), new("O", "break another thread", "break-other"), new("T", "break a task", "break-task"),
        new("D", "break the drawing", "break-drawing"), new("B", "block", "block"), new("Q", "leave", "leave"),
    ];

    private readonly Lock _gate = new();
    private volatile bool _moving;
    private bool _blocks;
    private bool _breaksDrawing;
    private string? _said;

    public KeyScene Scene => _moving ? new KeyScene { Moving = new MoveUnderWay('X', 0), Places = "" } : new KeyScene { Deeds = [.. Ways], Places = "" };

    public int Scrolled => 0;

    public bool Left { get; private set; }

    /// <summary>Shows it until it is left or has come to its end.</summary>
    public static int Run(string log)
    {
        var stand = new StandCommand(log);
        stand.Note($"process {Environment.ProcessId}");
        return ScreenWindow.Show(() => stand, new WindowLooks(Look.Lamp, ColourDepth.Exact, Ascii: true), new StopWay(
            () => stand._moving ? new MoveUnderWay('X', 0) : null,
            why => stand.Note("stop: " + why),
            why =>
            {
                if (stand._moving)
                    stand.Note("stop: " + why);
            }));
    }

    public Sheet Show(int width, int height) => _breaksDrawing ? throw new InvalidOperationException("the drawing broke") : new Sheet
    {
        Path = "stand", Next = _moving ? "It moves." : "It rests.", Because = "Every key of the last row breaks something.", Message = _said, Keys = [.. Ways],
    };

    public void Sized(int width, int height)
    {
    }

    public void Do(KeyAct act)
    {
        switch (act)
        {
            case KeyAct.Stop stop: Note("stop: " + stop.Pressed); break;
            case KeyAct.Deed deed: Deed(deed.Action); break;
        }
    }

    public bool Tick(long nowMs)
    {
        if (_blocks)
        {
            Note("blocked");
            Thread.Sleep(Timeout.Infinite);
        }

        GC.Collect();
        return false;
    }

    public void Report(Exception error) => _said = "Told: " + (error.InnerException ?? error).Message;

    private void Deed(string action)
    {
        switch (action)
        {
            case "move": _moving = true; break;
            case "break-screen": throw new InvalidOperationException("the screen's thread broke");
            case "break-other": new Thread(() => throw new InvalidOperationException("another thread broke")).Start(); break;
            case "break-task": Forgotten(); break;
            case "break-drawing": _breaksDrawing = true; break;
            case "block": _moving = _blocks = true; break;
            case "leave": Left = true; break;
        }
    }

    // On a thread that has ended when the collector comes: a worker that waits can hold its last task for a long time.
    [MethodImpl(MethodImplOptions.NoInlining)]
    private static void Forgotten()
    {
        var thread = new Thread(() => new Task(() => throw new InvalidOperationException("a task broke")).RunSynchronously(TaskScheduler.Default));
        thread.Start();
        thread.Join();
    }

    private void Note(string line)
    {
        lock (_gate)
            File.AppendAllText(log, line + "\n");
    }
}
