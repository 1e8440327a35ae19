using Commission.Workshop.Screens;
using Terminal.Gui.App;

namespace Commission.App.Screens;

/// <summary>How the window looks.</summary>
/// <param name="Look">Colours.</param>
/// <param name="Depth">What the terminal can show of them.</param>
/// <param name="Ascii">Only characters of ASCII.</param>
public sealed record WindowLooks(Look Look, ColourDepth Depth, bool Ascii);

/// <summary>Shows a desk in the terminal until the user leaves.</summary>
public static class ScreenWindow
{
    private static readonly TimeSpan TickTime = TimeSpan.FromMilliseconds(33);

    /// <summary>Shows the desk; returns when it was left.</summary>
    /// <param name="desk">The desk.</param>
    /// <param name="looks">How it looks.</param>
    /// <param name="stopMotion">Sends STOP if a move is under way; from any thread.</param>
    public static int Show(ISheetDesk desk, WindowLooks looks, Action stopMotion) => TermGuard.Run(stopMotion, () =>
    {
        Application.MaximumIterationsPerSecond = 60;
        Terminal.Gui.Drivers.Driver.Force16Colors = looks.Depth == ColourDepth.Sixteen;
        using var app = Application.Create().Init();
        // The runtime puts the number pad into its application mode, in which digits do not arrive.
        app.Driver!.WriteRaw("\x1b>");
        using var pump = new UiPump(app);
        using var view = new SheetView(desk, TimeProvider.System, looks.Look, looks.Depth, looks.Ascii);
        TermGuard.HookSignals(() => pump.Post(view.Leave));
        app.Keyboard.KeyDown += view.OnAnyKey;
        app.AddTimeout(TickTime, () =>
        {
            view.Tick();
            return true;
        });
        app.Run(view, error =>
        {
            view.Report(error);
            return true;
        });
        app.Keyboard.KeyDown -= view.OnAnyKey;
        return 0;
    });
}
