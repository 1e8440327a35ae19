using Commission.Workshop.Screens;

namespace Commission.App.Tests.Screens;

public class GlyphsTests
{
    [Fact]
    public void Finer_glyphs_move_no_column()
    {
        foreach (var text in (string[])[new string('-', 80), "   +" + new string('-', 70) + "+", " +160 +/- 300 ppm   320.000  ->  319.606", " M\u00fcller \u65e5\u672c e\u0301 \ud83d\ude00 \u05d0"])
        {
            var fine = Glyphs.Fine(text);
            Assert.Equal(text.Length, fine.Length);
            Assert.DoesNotContain('\u65e5', fine);
            Assert.DoesNotContain(fine, char.IsSurrogate);
        }

        Assert.Equal(" +160  \u00b1  300 ppm", Glyphs.Fine(" +160 +/- 300 ppm"));
    }

    [Fact]
    public void A_box_has_corners_and_sides_and_what_is_no_box_stays_as_it_is()
    {
        var edge = "   +" + new string('-', 30) + "+";
        string[] rows = [" Heron", edge, "   |" + "  5 |o---->....| 415 allowed".PadRight(30) + "|", "   |" + new string(' ', 30) + "|", edge, " an edge alone", edge, " no side"];
        var fine = BoxLines.In([.. rows.Select(Inking.Plain)]).Select(line => line.Text).ToList();
        var line = new string('\u2500', 30);
        Assert.Equal([rows[0], $"   \u250c{line}\u2510", "   \u2502" + rows[2][4..^1] + "\u2502", "   \u2502" + new string(' ', 30) + "\u2502", $"   \u2514{line}\u2518", .. rows[5..]], fine);
    }

    [Fact]
    public void The_environment_says_what_the_terminal_has()
    {
        Assert.True(Glyphs.HasMore(Env(("LANG", "de_DE.UTF-8"), ("TERM", "xterm-256color"))) || OperatingSystem.IsWindows());
        Assert.False(Glyphs.HasMore(Env(("LANG", "C"), ("TERM", "xterm"))));
        Assert.False(Glyphs.HasMore(Env(("LC_ALL", "C.UTF-8"), ("TERM", "linux"))));
        Assert.Equal(new WindowLooks(Look.Daylight, ColourDepth.Exact, Ascii: true), Looks.Started(ColourDepth.Exact, plain: true, Env(("COLORFGBG", "0;15"))));
        Assert.Equal(Look.Lamp, Looks.Started(ColourDepth.Exact, plain: true, Env(("COLORFGBG", "15;0"))).Look);
        Assert.Equal(Look.Mono, Looks.Started(ColourDepth.Exact, plain: false, Env(("COMMISSION_LOOK", "mono"))).Look);
        Assert.Equal(ColourDepth.None, Looks.Depth(Env(("NO_COLOR", "1"), ("COLORTERM", "truecolor"))));
        Assert.Equal(ColourDepth.Sixteen, OperatingSystem.IsWindows() ? ColourDepth.Sixteen : Looks.Depth(Env(("TERM", "xterm"))));
    }

    [Fact]
    public void A_name_of_wide_glyphs_breaks_no_frame()
    {
        var clock = KnownMachine.Clock();
        using var journal = new MemoryJournal(StoreNature.Real, "real", "test", clock);
        const string Name = "\u65e5\u672c\u8a9e \ud83d\udee0";
        journal.Append(new EntryBody.MachineDescribed(new Machine { Name = Name, TravelMm = [420, 580, 90] }, Retired: false) { Machine = Name }).Require();
        using var window = new Headless(ScreenProgram.DeskOf(PracticeStore.Options(journal, 1), clock));
        Assert.All(window.Rows.Take(24), row => Assert.True(row.Length <= 80));
        Assert.EndsWith("2026", window.Rows[0], StringComparison.Ordinal);
    }

    private static Func<string, string?> Env(params (string Name, string Value)[] given) => name => given.FirstOrDefault(pair => pair.Name == name).Value;
}
