using Commission.Workshop.Screens;
using Terminal.Gui.App;
using Terminal.Gui.Drivers;
using Terminal.Gui.Input;
using Terminal.Gui.Testing;
using Terminal.Gui.Time;

namespace Commission.App.Tests.Screens;

/// <summary>A window without a terminal: keys go in, text comes out, time passes when told.</summary>
internal sealed class Headless : IDisposable
{
    private readonly VirtualTimeProvider _time = new();
    private readonly SheetView _view;
    private readonly SessionToken? _session;

    public Headless(ISheetDesk desk, int width = 80, int height = 24, Look look = Look.Lamp, ColourDepth depth = ColourDepth.Exact, bool ascii = true)
    {
        Environment.SetEnvironmentVariable("DisableRealDriverIO", "1");
        App = Application.Create(_time).Init(DriverRegistry.Names.ANSI);
        App.Driver!.SetScreenSize(width, height);
        Desk = desk;
        _view = new SheetView(desk, Clock, look, depth, ascii);
        App.Keyboard.KeyDown += _view.OnAnyKey;
        _session = App.Begin(_view);
        App.LayoutAndDraw();
    }

    public IApplication App { get; }

    public ISheetDesk Desk { get; }

    public Microsoft.Extensions.Time.Testing.FakeTimeProvider Clock { get; } = new();

    public string Text => App.Driver!.ToString()!.ReplaceLineEndings("\n");

    public string[] Rows => [.. Text.Split('\n').Select(row => row.TrimEnd())];

    /// <summary>The message of a window of 24 rows, and what stands above it: a longer one may stand there.</summary>
    public string Said => string.Join(' ', Rows[11..22].Select(row => row.Trim()));

    /// <summary>Types characters as a person does, one every 200 ms; '\n' is Enter.</summary>
    public void Type(string keys, int gapMs = 200)
    {
        foreach (var c in keys)
        {
            App.InjectKey(c == '\n' ? Key.Enter : new Key(c));
            Pass(gapMs);
        }

        App.LayoutAndDraw();
    }

    public void Press(params Key[] keys)
    {
        foreach (var key in keys)
        {
            App.InjectKey(key);
            Pass(200);
        }

        App.LayoutAndDraw();
    }

    /// <summary>Presses a key by the name that a sheet gives it.</summary>
    public void Press(string name) => Press(name switch
    {
        "Enter" => Key.Enter,
        "Esc" => Key.Esc,
        "Up" => Key.CursorUp,
        "Down" => Key.CursorDown,
        "Left" => Key.CursorLeft,
        "Right" => Key.CursorRight,
        "PgUp" => Key.PageUp,
        "PgDn" => Key.PageDown,
        "F1" => Key.F1,
        "F2" => Key.F2,
        "F9" => Key.F9,
        "Backspace" => Key.Backspace,
        "Ctrl+C" => Key.C.WithCtrl,
        { Length: 1 } => new Key(char.ToLowerInvariant(name[0])),
        _ => throw new ArgumentOutOfRangeException(nameof(name), name, "no key of a sheet"),
    });

    /// <summary>Presses a key until something is shown.</summary>
    public void PressUntil(Key key, string shown)
    {
        const int Most = 60;
        for (var i = 0; i < Most && !Text.Contains(shown, StringComparison.Ordinal); i++)
            Press(key);
        Assert.Contains(shown, Text, StringComparison.Ordinal);
    }

    /// <summary>Empties the field that is typed into; one Backspace more would go back to the question before.</summary>
    public void Erase()
    {
        var row = Rows.First(row => row.StartsWith("    [ ", StringComparison.Ordinal));
        Press([.. Enumerable.Repeat(Key.Backspace, row.IndexOf('_', StringComparison.Ordinal) - "    [ ".Length)]);
    }

    public void Click(int column, int row)
    {
        App.InjectMouse(new Mouse { Flags = MouseFlags.LeftButtonClicked, ScreenPosition = new(column, row) });
        Advance(100);
    }

    public void Advance(int ms)
    {
        Pass(ms);
        App.LayoutAndDraw();
    }

    private void Pass(int ms)
    {
        Clock.Advance(TimeSpan.FromMilliseconds(ms));
        _view.Tick();
    }

    public void Resize(int width, int height)
    {
        App.Driver!.SetScreenSize(width, height);
        App.LayoutAndDraw();
    }

    public void Dispose()
    {
        App.Keyboard.KeyDown -= _view.OnAnyKey;
        if (_session is not null)
        {
            App.End(_session);
        }

        _view.Dispose();
        App.Dispose();
    }
}
