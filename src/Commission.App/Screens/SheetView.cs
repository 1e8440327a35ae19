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
    private readonly ISheetDesk _desk;
    private readonly TimeProvider _clock;
    private readonly Look _look;
    private readonly ColourDepth _depth;
    private readonly bool _ascii;
    private readonly long _started;
    private KeyRouter _router = new();
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

    /// <inheritdoc/>
    protected override bool OnDrawingContent(DrawContext? context)
    {
        var (width, height) = (Viewport.Width, Viewport.Height);
        var sheet = _desk.Show(width, height);
        _rows = SheetFrame.Rows(sheet, width, height, _desk.Scrolled);
        for (var row = 0; row < height; row++)
        {
            DrawRow(row < _rows.Length ? _rows[row] : Line.Blank, row, width);
        }

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
        if (!mouse.Flags.HasFlag(MouseFlags.LeftButtonClicked) || mouse.Position is not { } at || _desk.Scene.Box is not null)
        {
            return base.OnMouseEvent(mouse);
        }

        // A row, or a key of the last row; a box cannot be pressed by the mouse.
        var key = at.Y == Viewport.Height - 1 ? KeyAt(at.X) : at.Y >= 2 && at.Y < Viewport.Height - 4 ? new KeyAct.ChooseRow(at.Y - 2 + _desk.Scrolled) : null;
        if (key is not null && _desk.Scene.Moving is null)
        {
            Carry([key]);
            SetNeedsDraw();
        }

        return true;
    }

    private KeyAct? KeyAt(int column)
    {
        var sheet = _desk.Show(Viewport.Width, Viewport.Height);
        var row = _rows.IsDefaultOrEmpty ? "" : _rows[^1].Text;
        var pressed = sheet.Keys.Where(key => key.NotNow is null)
            .FirstOrDefault(key => row.IndexOf(" " + key.Key + " " + key.Word, StringComparison.Ordinal) is var at and >= 0
                && column > at && column <= at + key.Key.Length + 1 + key.Word.Length);
        return pressed switch
        {
            null => null,
            { Key: "Enter" } => new KeyAct.FollowNext(),
            { Key: "F1" } => new KeyAct.Help(),
            { Key: "F2" } => new KeyAct.Card(),
            { Key: "Esc" } => new KeyAct.Away(),
            { Key: "Left, Right" } => new KeyAct.Choose(1, Sideways: true),
            { Key: "Up, Down" } => new KeyAct.Choose(1, Sideways: false),
            { Key: "PgUp, PgDn" } => new KeyAct.Scroll(1),
            { Action: "place", Letter: { } place } => new KeyAct.Place(place),
            { Letter: { } letter } when _desk.Scene.Deeds.All(deed => deed.Letter != letter) => new KeyAct.Place(letter),
            _ => new KeyAct.Deed(pressed.Action),
        };
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

    private void DrawRow(Line line, int row, int width)
    {
        var (look, depth, ascii) = _desk.Look switch
        {
            "daylight" => (Look.Daylight, _depth, _ascii),
            "mono" => (Look.Mono, _depth, _ascii),
            "ascii" => (Look.Mono, ColourDepth.None, true),
            "lamp" => (Look.Lamp, _depth, _ascii),
            _ => (_look, _depth, _ascii),
        };
        var text = (ascii ? Glyphs.Ascii(line.Text) : Glyphs.Fine(line.Text)).PadRight(width);
        var cells = line.Cells();
        for (var start = 0; start < width;)
        {
            var ink = start < cells.Length ? cells[start] : Ink.Text;
            var end = start + 1;
            while (end < width && (end < cells.Length ? cells[end] : Ink.Text) == ink)
            {
                end++;
            }

            SetAttribute(Looks.Of(ink, look, depth));
            AddStr(start, row, text[start..end]);
            start = end;
        }
    }
}
