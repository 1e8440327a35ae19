using Commission.Workshop.Screens.Keys;

namespace Commission.Workshop.Screens;

/// <summary>What stands behind the window: it makes sheets and carries out what keys ask for. The view only draws and passes keys.</summary>
public interface ISheetDesk
{
    /// <summary>The sheet to show in a window of this size.</summary>
    Sheet Show(int width, int height);

    /// <summary>Takes in how large the window is now: before each key, and before each drawing.</summary>
    void Sized(int width, int height);

    /// <summary>What the keys meet now.</summary>
    KeyScene Scene { get; }

    /// <summary>Body rows scrolled away.</summary>
    int Scrolled { get; }

    /// <summary>Whether the user has left.</summary>
    bool Left { get; }

    /// <summary>Carries out what a key asked for.</summary>
    void Do(KeyAct act);

    /// <summary>Lets time pass: moves end, states arrive. Returns whether the sheet changed.</summary>
    bool Tick(long nowMs);

    /// <summary>Bells to ring since the last call.</summary>
    int TakeBells() => 0;

    /// <summary>How the user wants it to look: <c>lamp daylight mono ascii</c>; null for what the terminal is started with.</summary>
    string? Look => null;

    /// <summary>An error that nobody expected, to be shown in words; the desk goes on.</summary>
    void Report(Exception error);
}
