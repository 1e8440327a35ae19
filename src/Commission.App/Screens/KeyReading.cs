using Commission.Workshop.Screens.Keys;
using Terminal.Gui.Drivers;
using Terminal.Gui.Input;

namespace Commission.App.Screens;

/// <summary>Turns the library's keys into ours.</summary>
public static class KeyReading
{
    // Enter of the number pad where the terminal speaks the newer keyboard protocol.
    private const int PadEnter = 57414;

    /// <summary>Our key for the library's.</summary>
    public static KeyPress Of(Key key, long atMs)
    {
        if (key == Key.C.WithCtrl || key == Key.F9)
        {
            return KeyPress.Of(NamedKey.Stop, atMs);
        }

        if ((int)key.NoShift.KeyCode == PadEnter || key == Key.Enter || key == Key.Enter.WithCtrl)
        {
            return KeyPress.Of(NamedKey.Enter, atMs);
        }

        if (!key.IsCtrl && !key.IsAlt && key.GetPrintableText() is { Length: 1 } text && !char.IsControl(text[0]))
        {
            return KeyPress.Of(text[0], atMs);
        }

        return KeyPress.Of(Name(key), atMs);
    }

    private static NamedKey Name(Key key) => key == Key.Tab.WithShift ? NamedKey.BackTab : key.KeyCode switch
    {
        KeyCode.Tab => NamedKey.Tab,
        KeyCode.Backspace => NamedKey.Backspace,
        KeyCode.Esc => NamedKey.Escape,
        KeyCode.CursorUp => NamedKey.Up,
        KeyCode.CursorDown => NamedKey.Down,
        KeyCode.CursorLeft => NamedKey.Left,
        KeyCode.CursorRight => NamedKey.Right,
        KeyCode.PageUp => NamedKey.PageUp,
        KeyCode.PageDown => NamedKey.PageDown,
        KeyCode.Home => NamedKey.Top,
        KeyCode.End => NamedKey.Bottom,
        KeyCode.F1 => NamedKey.F1,
        KeyCode.F2 => NamedKey.F2,
        _ => NamedKey.Other,
    };
}
