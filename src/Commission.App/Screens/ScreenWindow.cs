using System.Diagnostics;
using System.Globalization;
using Commission.Workshop.Screens;
using Terminal.Gui.App;
using Terminal.Gui.Drivers;
using Terminal.Gui.Input;

namespace Commission.App.Screens;

/// <summary>How the window looks.</summary>
/// <param name="Look">Colours.</param>
/// <param name="Depth">What the terminal can show of them.</param>
/// <param name="Ascii">Only characters of ASCII.</param>
public sealed record WindowLooks(Look Look, ColourDepth Depth, bool Ascii);

/// <summary>Shows a desk in the terminal until the user leaves.</summary>
public static class ScreenWindow
{
    // All keys as sequences, with releases, other layouts and text: what the library asks for.
    private const int KeyboardFlags = 31;
    private const int MostErrors = 20;

    // Turns of the loop each second: many while somebody types, few while nobody does, for they are what a resting screen costs.
    private const ushort TurnsTyping = 200;
    private const ushort TurnsResting = 50;

    private static readonly TimeSpan StaysAwake = TimeSpan.FromSeconds(3);
    private static readonly TimeSpan TickTime = TimeSpan.FromMilliseconds(33);

    /// <summary>Shows the desk; returns when it was left.</summary>
    /// <param name="desk">Makes the desk; called once, on the screen's thread, when the terminal is taken.</param>
    /// <param name="looks">How it looks.</param>
    /// <param name="stop">How the motion is stopped past the screen.</param>
    public static int Show(Func<ISheetDesk> desk, WindowLooks looks, StopWay stop) => TermGuard.Run(stop.BeforeEnd, () =>
    {
        Application.MaximumIterationsPerSecond = TurnsTyping;
        // Set whatever a settings file of the library says: our looks and keys are ours (decision 10).
        Driver.Force16Colors = looks.Depth == ColourDepth.Sixteen;
        Application.ForceDriver = "";
        using var app = Application.Create().Init();
        // The runtime puts the number pad into its application mode, in which digits do not arrive.
        app.Driver!.WriteRaw("\x1b>");
        app.Iteration += (_, _) => TermGuard.Turn();
        using var pump = new UiPump(app);
        using var view = new SheetView(desk(), TimeProvider.System, looks.Look, looks.Depth, looks.Ascii);
        TermGuard.Standing(() => pump.Post(view.Leave), () => pump.Post(() => Suspend(app)), () => pump.Post(() => Resume(app)), () => pump.Post(view.SetNeedsDraw));
        using var blocked = Watch(app, pump, stop, () => TermGuard.Leave(hungUp: true));
        void Unobserved(object? sender, UnobservedTaskExceptionEventArgs e)
        {
            e.SetObserved();
            pump.Post(() => view.Report(e.Exception));
        }

        TaskScheduler.UnobservedTaskException += Unobserved;
        var typed = Stopwatch.GetTimestamp();
        void Typed(object? sender, Key key) => typed = Stopwatch.GetTimestamp();
        app.Keyboard.KeyDown += Typed;
        app.Keyboard.KeyDown += view.OnAnyKey;
        app.AddTimeout(TickTime, () =>
        {
            // The library would place the cursor anew in each turn, also where nothing was drawn since; timers come last in a turn.
            app.Driver.SetCursorNeedsUpdate(false);
            Application.MaximumIterationsPerSecond = Stopwatch.GetElapsedTime(typed) < StaysAwake ? TurnsTyping : TurnsResting;
            view.Tick();
            return true;
        });
        app.Run(view, error => Told(view, error));
        app.Keyboard.KeyDown -= view.OnAnyKey;
        app.Keyboard.KeyDown -= Typed;
        TaskScheduler.UnobservedTaskException -= Unobserved;
        return 0;
    });

    // One error is told and the screens go on; where one follows the other without a sheet between them they cannot.
    private static bool Told(SheetView view, Exception error)
    {
        if (view.ErrorsSinceDrawn >= MostErrors)
            return false;
        view.Report(error);
        return true;
    }

    // Taken again before anything is drawn: what the loop writes on the shell's own screen would put its next prompt into the corner.
    private static void Suspend(IApplication app)
    {
        TermGuard.Suspend();
        Resume(app);
    }

    private static void Resume(IApplication app)
    {
        var keyboard = app.Driver!.KittyKeyboardCapabilities is { IsSupported: true } ? string.Create(CultureInfo.InvariantCulture, $"\x1b[>{KeyboardFlags}u") : "";
        TermGuard.Resume(keyboard);
        app.Driver.ClearContents();
        app.LayoutAndDraw(true);
    }

    private static BlockedScreen? Watch(IApplication app, UiPump pump, StopWay stop, Action hungUp)
    {
        if (app.Driver!.GetInputProcessor() is not InputProcessorImpl<char> input)
            return null;
        var watch = new BlockedScreen(() => input.InputQueue.IsEmpty ? [] : [.. input.InputQueue], () => pump.Turns, stop, hungUp);
        watch.Start();
        return watch;
    }
}
