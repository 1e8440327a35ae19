using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>Every screen as the program draws it, at both sizes, from the bench through a whole run of a known machine.</summary>
public sealed class GoldenScreenTests : KnownScreens
{
    [Theory]
    [InlineData(80, 24)]
    [InlineData(120, 40)]
    public void From_the_bench_through_a_run_to_its_finding(int width, int height)
    {
        using var window = Open(width, height);
        void Keep(string name) => Golden.Same($"{name}-{width}x{height}", window);

        Keep("bench-known");
        window.Press(Key.Enter);
        Keep("overview");
        window.Type("p");
        Keep("plans");
        window.Press(Key.Esc, Key.F1);
        Keep("overview-help");
        window.Press(Key.Esc);
        window.Type("s");
        Keep("step-instruct");
        window.Type("\n");
        Keep("step-confirm");
        window.Type("s");
        Keep("readings-first");
        Story.Read(window, 6);
        Keep("readings-seventh");
        window.Type("g");
        Keep("readings-large");
        window.Type("g");
        Keep("readings-call");
        window.Type("g164.51\n");
        Keep("readings-slip");
        window.Type("r");
        window.Type("e");
        Keep("leave-out");
        window.Press(Key.Esc);
        window.Type("7,1,2\n");
        Keep("readings-not-a-number");
        window.Press(Key.Esc);
        window.Press(Key.F2);
        Keep("card");
        window.Press(Key.Esc, Key.F1);
        Keep("help");
        window.Press(Key.Esc);
        Story.Read(window, 4);
        Keep("step-zero-again");
        window.Type("s");
        Keep("finding");
        window.Type("d");
        Keep("finding-numbers");
        window.Press(Key.Esc);
        window.Type("t");
        Keep("trend-list");
        window.Press(Key.Enter);
        Keep("trend-series");
    }

    [Theory]
    [InlineData(80, 24)]
    [InlineData(120, 40)]
    public void Every_place_and_the_sheets_over_them(int width, int height)
    {
        using var window = Open(width, height);
        foreach (var (letter, name) in new[] { ('w', "work"), ('f', "findings"), ('t', "trend"), ('c', "controller"), ('k', "kit"), ('l', "log"), ('m', "machine") })
        {
            window.Type(letter.ToString());
            Golden.Same($"place-{name}-{width}x{height}", window);
        }

        window.Type("l");
        window.Type("n");
        window.Type("nut of Y set by M.");
        Golden.Same($"note-{width}x{height}", window);
        window.Type("\n");
        window.Type("j");
        Golden.Same($"no-such-key-{width}x{height}", window);
        window.Type("20.01\n", gapMs: 2);
        Golden.Same($"reading-not-used-{width}x{height}", window);
    }

    [Theory]
    [InlineData(80, 24)]
    [InlineData(120, 40)]
    public void First_start_set_up_and_an_unfinished_run(int width, int height)
    {
        var then = KnownMachine.Clock();
        using var empty = new MemoryJournal(StoreNature.Real, "real", "test", then);
        using (var first = KnownMachine.Window(empty, then, width, height))
        {
            Golden.Same($"first-start-{width}x{height}", first);
            first.Type("\nHeron\n420\n");
            Golden.Same($"set-up-travel-{width}x{height}", first);
            first.Type("580\n90\n");
            Golden.Same($"set-up-drive-{width}x{height}", first);
        }

        Story.BreakOff(Journal, Clock, 6);
        Clock.Advance(TimeSpan.FromMinutes(81));
        using var resumed = Open(width, height);
        Golden.Same($"resume-{width}x{height}", resumed);
        resumed.Press(Key.CursorLeft, Key.CursorLeft, Key.CursorDown, Key.CursorLeft);
        Golden.Same($"resume-answered-{width}x{height}", resumed);
    }

    /// <summary>Sheets over a page and pages behind it that no story passes by.</summary>
    [Theory]
    [InlineData("good-data", ">D")]
    [InlineData("plan-places", ">pD")]
    [InlineData("log-entry", "l>")]
    [InlineData("instrument", "k>")]
    [InlineData("hand-study", "ks")]
    [InlineData("leave-one-out", ">s>s75.01>E")]
    [InlineData("check", "w####>s")]
    [InlineData("finding-readings", "R f>V")]
    [InlineData("series-numbers", "R t>D")]
    [InlineData("series-chosen", "R t>#")]
    [InlineData("picture", "R f>g")]
    [InlineData("take-back", "R fE")]
    [InlineData("bench-row", "R ##")]
    [InlineData("put-aside", ">so")]
    [InlineData("resume-readings", "Uv")]
    [InlineData("resume-again", "Ur")]
    [InlineData("set-up-name", "E>")]
    [InlineData("set-up-grade", "E>Tern>420>580>90>>>>>>")]
    [InlineData("set-up-steps", "E>Tern>420>580>90>>>>>>>>")]
    [InlineData("set-up-class", "E>Tern>420>580>90>>>>>>>>>>>")]
    [InlineData("new-bench", "E>Tern>420>580>90>>>>>>>>>>>>")]
    [InlineData("machine-facts", "m>>")]
    [InlineData("out-of-use", "m>###>")]
    [InlineData("report-of-a-day", "m>#####>")]
    [InlineData("computed-again", "R m>###########>")]
    [InlineData("adopt-a-value", "m>############>")]
    [InlineData("fit-a-file", "m>##############>")]
    [InlineData("published-cases", "m>###############>")]
    public void Every_other_page(string name, string way)
    {
        using var window = new Headless(EveryKeyTests.DeskAt(way));
        Golden.Both("page-" + name, window);
    }

    [Fact]
    public void A_window_too_small_says_so_in_one_line()
    {
        using var window = Open();
        window.Resize(60, 20);
        Golden.Same("too-small-60x20", window.Text);
    }
}
