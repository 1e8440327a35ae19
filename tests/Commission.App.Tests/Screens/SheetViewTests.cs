using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Keys;
using Terminal.Gui.Drawing;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

public partial class SheetViewTests
{
    private static Sheet Some => new()
    {
        Path = "Heron / work",
        Body = ["//// HAZARD  The gantry moves.", " [!!] suspect"],
        Next = "Read the hazard.",
        Because = "Because: it crushes.",
        Live = new("link rest . position trusted", Stops: true),
        Keys = [new("Enter", "next", "next"), new("S", "start", "start"), new("F2", "card", "card")],
        Cursor = (3, 10),
    };

    [Fact]
    public void The_window_shows_the_sheet_to_the_character()
    {
        using var window = new Headless(new Desk(Some));
        Assert.Equal(SheetFrame.Text(Some), string.Join('\n', window.Rows[..24]) + "\n");
    }

    [Fact]
    public void Resizing_at_any_moment_loses_nothing()
    {
        using var window = new Headless(new Desk(Some));
        window.Resize(40, 10);
        Assert.StartsWith("Make the window at least 80 by 24", window.Rows[0], StringComparison.Ordinal);
        window.Resize(120, 40);
        Assert.Equal(SheetFrame.Text(Some, 120, 40), string.Join('\n', window.Rows[..40]) + "\n");
    }

    [Fact]
    public void Keys_reach_the_desk_as_acts()
    {
        var desk = new Desk(Some);
        using var window = new Headless(desk);
        window.Press(new Key('s'), Key.F9, Key.C.WithCtrl, Key.F2, Key.Esc, Key.CursorDown);
        Assert.Equal(
            [new KeyAct.Deed("start"), new KeyAct.Stop("STOP"), new KeyAct.Stop("STOP"), new KeyAct.Card(), new KeyAct.Away(), new KeyAct.Choose(1, false)],
            desk.Acts);
    }

    [Fact]
    public void Hazard_tape_and_STOP_have_their_colours_and_form_without_them()
    {
        using var window = new Headless(new Desk(Some));
        Assert.Equal(new Color(255, 208, 0), window.App.Driver!.Contents![2, 0].Attribute!.Value.Background);
        Assert.Equal(new Color(156, 17, 17), window.App.Driver!.Contents![22, 75].Attribute!.Value.Background);
        using var mono = new Headless(new Desk(Some), depth: ColourDepth.None);
        Assert.Equal(Color.None, mono.App.Driver!.Contents![2, 0].Attribute!.Value.Background);
        Assert.Equal(window.Text, mono.Text);
    }

    [Theory]
    [InlineData(ColourDepth.None)]
    [InlineData(ColourDepth.Sixteen)]
    [InlineData(ColourDepth.Palette)]
    [InlineData(ColourDepth.Exact)]
    public void A_frame_leaves_whole_and_in_one_piece_and_nothing_of_the_library_comes_after_it(ColourDepth depth)
    {
        using var window = new Headless(new Desk(Some), depth: depth);
        window.Press(Key.F2);
        var left = window.App.Driver!.GetOutput().GetLastOutput();
        Assert.StartsWith("\x1b[?25l", left, StringComparison.Ordinal);
        Assert.EndsWith("\x1b[0m\x1b[1;1H", left, StringComparison.Ordinal);
        var rows = Enumerable.Range(1, 24).Select(row => Between(left, $"\x1b[{row};1H", row < 24 ? $"\x1b[{row + 1};1H" : "\x1b[0m\x1b[1;1H")).ToList();
        Assert.Equal(window.Rows[..24], rows.Select(row => Sequence().Replace(row, "").TrimEnd()));
        Assert.All(rows, row => Assert.Equal(80, Sequence().Replace(row, "").Length));
        var known = Enum.GetValues<Ink>().Select(ink => Looks.Sequence(ink, Look.Lamp, depth)).ToHashSet();
        Assert.All(rows.SelectMany(row => Runs().Matches(row)), run => Assert.Contains(run.Value, known));
        Assert.DoesNotContain(Enumerable.Range(0, 24), row => window.App.Driver.GetOutputBuffer().DirtyLines[row]);
    }

    private static string Between(string text, string from, string to) => text.IndexOf(from, StringComparison.Ordinal) + from.Length is var at ? text[at..text.IndexOf(to, at, StringComparison.Ordinal)] : "";

    [Fact]
    public void A_mouse_presses_every_key_of_the_last_row_NEXT_and_STOP_and_no_box()
    {
        var sheet = Some with
        {
            Keys = [new("Enter", "next", "next"), new("S", "start", "start"), new("K", "kit", "place"), new("Left, Right", "series", "choose"), new("PgUp, PgDn", "scroll", "scroll"), new("Esc", "away", "away"), new("F1", "help", "help"), new("F2", "card", "card")],
        };
        var desk = new Desk(sheet);
        using var window = new Headless(desk, 120, 30);
        foreach (var key in sheet.Keys)
            window.Click(window.Rows[29].IndexOf($" {key.Key} {key.Word}", StringComparison.Ordinal) + key.Key.Length + 2, 29);
        Assert.Equal(
            [new KeyAct.FollowNext(), new KeyAct.Deed("start"), new KeyAct.Place('K'), new KeyAct.Choose(1, true), new KeyAct.Scroll(1), new KeyAct.Away(), new KeyAct.Help(), new KeyAct.Card()],
            desk.Acts);
        desk.Acts.Clear();
        window.Click(window.Rows[29].IndexOf("Left, Right", StringComparison.Ordinal), 29);
        window.Click(4, 26);
        window.Click(115, 28);
        Assert.Equal([new KeyAct.Choose(-1, true), new KeyAct.FollowNext(), new KeyAct.Stop("the mouse")], desk.Acts);
        desk.Acts.Clear();
        window.Click(4, 3);
        Assert.Equal([new KeyAct.ChooseRow(1)], desk.Acts);
        desk.Acts.Clear();
        desk.Box = new OpenBox('X', 0);
        foreach (var row in Enumerable.Range(0, 26))
            window.Click(3, row);
        Assert.Empty(desk.Acts);
    }

    [System.Text.RegularExpressions.GeneratedRegex("\x1b\\[[0-9;]*m")]
    private static partial System.Text.RegularExpressions.Regex Sequence();

    [System.Text.RegularExpressions.GeneratedRegex("(\x1b\\[[0-9;]*m)+")]
    private static partial System.Text.RegularExpressions.Regex Runs();

    private sealed class Desk(Sheet sheet) : ISheetDesk
    {
        public List<KeyAct> Acts { get; } = [];

        public OpenBox? Box { get; set; }

        public KeyScene Scene => new() { Deeds = sheet.Keys, Box = Box };

        public int Scrolled => 0;

        public bool Left => false;

        public Sheet Show(int width, int height) => sheet;

        public void Sized(int width, int height)
        {
        }

        public void Do(KeyAct act) => Acts.Add(act);

        public bool Tick(long nowMs) => false;

        public void Report(Exception error) => throw error;
    }
}
