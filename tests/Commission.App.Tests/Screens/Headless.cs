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
