using System.Collections.Immutable;
using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Keys;
using Terminal.Gui.Drivers;
using Terminal.Gui.Input;
using Terminal.Gui.ViewBase;
using Terminal.Gui.Views;
using Line = Commission.Workshop.Screens.Line;
using Point = System.Drawing.Point;

namespace Commission.App.Screens;

/// <summary>Draws the sheet of a desk and passes keys to it. It decides nothing.</summary>
public sealed class SheetView : Runnable
{
    private const int BodyFrom = 2, NextFromBelow = 4;

    private static readonly Dictionary<string, NamedKey> Named = new(StringComparer.Ordinal)
    {
        ["Enter"] = NamedKey.Enter, ["Esc"] = NamedKey.Escape, ["Tab"] = NamedKey.Tab, ["Backspace"] = NamedKey.Backspace, ["Up"] = NamedKey.Up, ["Down"] = NamedKey.Down, ["Left"] = NamedKey.Left,
        ["Right"] = NamedKey.Right, ["PgUp"] = NamedKey.PageUp, ["PgDn"] = NamedKey.PageDown, ["F1"] = NamedKey.F1, ["F2"] = NamedKey.F2, ["F9"] = NamedKey.Stop, ["Ctrl+C"] = NamedKey.Stop,
    };

    private readonly ISheetDesk _desk;
    private readonly TimeProvider _clock;
    private readonly Look _look;
    private readonly ColourDepth _depth;
    private readonly bool _ascii;
    private readonly long _started;
    private KeyRouter _router = new();
    private SheetPaint? _paint;
    private string? _painted;
    private ImmutableArray<Line> _rows = [];

    /// <summary>Errors that were told since a sheet was last drawn whole.</summary>
    public int ErrorsSinceDrawn { get; private set; }

    /// <summary>A view over a desk.</summary>
    public SheetView(ISheetDesk desk, TimeProvider clock, Look look, ColourDepth depth, bool ascii)
    {
        (_desk, _clock, _look, _depth, _ascii) = (desk, clock, look, depth, ascii);
        _started = clock.GetTimestamp();
        CanFocus = true;
        // Esc is ours; the library would end the program by it.
        AddCommand(Command.Cancel, () => true);
        AddCommand(Command.Quit, () => true);
    }

    private long NowMs => (long)_clock.GetElapsedTime(_started).TotalMilliseconds;

    /// <summary>Takes every key before the library does.</summary>
    public void OnAnyKey(object? sender, Key key)
    {
        key.Handled = true;
        _desk.Sized(Viewport.Width, Viewport.Height);
        (_router, var acts) = _router.After(_desk.Scene, KeyReading.Of(key, NowMs));
        Carry(acts);
        SetNeedsDraw();
    }

    /// <summary>Lets time pass; called by a timer of the loop.</summary>
    public void Tick()
    {
        // The scene is asked for only where a key waits: it is made from the whole sheet.
        if (_router.IsWaiting)
        {
            _desk.Sized(Viewport.Width, Viewport.Height);
            (_router, var acts) = _router.Tick(_desk.Scene, NowMs);
            Carry(acts);
            if (acts.Length > 0)
                SetNeedsDraw();
        }

        if (_desk.Tick(NowMs))
            SetNeedsDraw();
    }

    /// <summary>An error nobody expected: shown in words, the loop goes on.</summary>
    public void Report(Exception error)
    {
        ErrorsSinceDrawn++;
        _desk.Report(error);
        SetNeedsDraw();
    }

    /// <summary>Ends the screens; on the screen's thread.</summary>
    public void Leave() => App?.RequestStop(this);

    /// <summary>Nothing is cleared: every cell is drawn.</summary>
    protected override bool OnClearingViewport() => true;

    /// <inheritdoc/>
    protected override bool OnDrawingContent(DrawContext? context)
    {
        var (width, height) = (Viewport.Width, Viewport.Height);
        _desk.Sized(width, height);
        var sheet = _desk.Show(width, height);
        _rows = SheetFrame.Rows(sheet, width, height, _desk.Scrolled);
        if (App?.Driver is { } driver)
            Painted().Draw(driver, _rows, width, height);
        var shown = sheet.Cursor is { } at && width >= SheetFrame.LeastWidth && height >= SheetFrame.LeastHeight;
        Cursor = shown
            ? new Cursor { Position = ViewportToScreen(new Point(sheet.Cursor!.Value.Column, sheet.Cursor.Value.Row + 2 - _desk.Scrolled)), Style = CursorStyle.SteadyBlock }
            : new Cursor { Position = null };
        ErrorsSinceDrawn = 0;
        return true;
    }

    /// <inheritdoc/>
    protected override bool OnMouseEvent(Mouse mouse)
    {
        if (!mouse.Flags.HasFlag(MouseFlags.LeftButtonClicked) || mouse.Position is not { } at)
            return base.OnMouseEvent(mouse);
        Clicked(at);
        SetNeedsDraw();
        return true;
    }

    // A click is the key it points at. While something moves every key is STOP, the mouse's too; none of them confirms a move or a write.
    private void Clicked(Point at)
    {
        _desk.Sized(Viewport.Width, Viewport.Height);
        var scene = _desk.Scene;
        if (scene.Moving is null && scene.OutOfSight)
            return;
        if (scene.Moving is not null || IsStop(at))
            Carry([new KeyAct.Stop("the mouse")]);
        else if (at.Y == Viewport.Height - NextFromBelow)
            Press(scene, "Enter");
        else if (at.Y == Viewport.Height - 1 && KeyAt(at.X) is { } name)
            Press(scene, name);
        else if (at.Y >= BodyFrom && at.Y < Viewport.Height - NextFromBelow && scene.Box is null)
            Carry([new KeyAct.ChooseRow(at.Y - BodyFrom + _desk.Scrolled)]);
    }

    private bool IsStop(Point at) => at.Y == Viewport.Height - 2 && at.X >= Viewport.Width - 1 - Live.StopField.Length;

    private LiveStrip Live => _desk.Show(Viewport.Width, Viewport.Height).Live;

    private void Press(KeyScene scene, string name)
    {
        (_router, var acts) = _router.After(scene, name.Length == 1 ? KeyPress.Of(name[0], NowMs) : KeyPress.Of(Named[name], NowMs));
        Carry(acts);
    }

    // Of two keys the one pointed at; on their word the one that goes on.
    private string? KeyAt(int column)
    {
        var row = _rows.IsDefaultOrEmpty ? "" : _rows[^1].Text;
        foreach (var key in _desk.Show(Viewport.Width, Viewport.Height).Keys.Where(key => key is { NotNow: null, Quiet: false, Action: not "confirm" }))
        {
            if (row.IndexOf($" {key.Key} {key.Word}", StringComparison.Ordinal) is not (>= 0 and var before) || column <= before || column > before + key.Key.Length + 1 + key.Word.Length)
                continue;
            var names = key.Key.Split([", ", " or "], StringSplitOptions.None);
            var pointed = names.FirstOrDefault(name => row.IndexOf(name, before + 1, StringComparison.Ordinal) is var at && column >= at && column < at + name.Length)
                ?? (names[0] == "Enter" ? names[0] : names[^1]);
            return pointed.Length == 1 || Named.ContainsKey(pointed) ? pointed : null;
        }

        return null;
    }

    private void Carry(ImmutableArray<KeyAct> acts)
    {
        foreach (var act in acts)
        {
            _desk.Do(act);
        }

        if (_desk.TakeBells() is > 0 and var bells)
        {
            App?.Driver?.WriteRaw(new string('\a', bells));
        }

        if (_desk.Left)
        {
            Leave();
        }
    }

    // The look can be changed on the machine's page.
    private SheetPaint Painted()
    {
        if (_paint is null || _desk.Look != _painted)
        {
            _paint = (_painted = _desk.Look) switch
            {
                "daylight" => new(Look.Daylight, _depth, _ascii),
                "mono" => new(Look.Mono, _depth, _ascii),
                "ascii" => new(Look.Mono, ColourDepth.None, ascii: true),
                "lamp" => new(Look.Lamp, _depth, _ascii),
                _ => new(_look, _depth, _ascii),
            };
        }

        return _paint;
    }
}
