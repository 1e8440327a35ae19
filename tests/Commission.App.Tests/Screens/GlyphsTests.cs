using Commission.Core.Instruments;
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

        Assert.Equal("<------->", Glyphs.Fine("<------->"));
        Assert.Equal(" 1 \u2192  2", Glyphs.Fine(" 1 -> 2"));
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

    // Wide (East Asian), of two code units, joined by a joiner, combining, from right to left, without a width, and such as turn what follows.
    public static TheoryData<string> Odd { get; } = ["\u65e5\u672c\u8a9e", "\ud83d\udee0\ufe0f", "\ud83d\udc68\u200d\ud83d\udd27", "e\u0301o\u0308", "\u05d0\u05d1\u0627", "a\u200bb\u00adc", "\u202eabc\u202c", "\uff21\uff22\uac00", "\u0e01\u0e33\u0939\u093f"];

    [Theory]
    [MemberData(nameof(Odd))]
    public void Machines_instruments_people_and_notes_of_odd_glyphs_break_no_frame_at_any_place_with_or_without_finer_glyphs(string odd)
    {
        var clock = KnownMachine.Clock();
        foreach (var ascii in new[] { true, false })
        {
            using var journal = new MemoryJournal(StoreNature.Real, "real", "test", clock);
            var name = $"A{odd}B";
            journal.Append(new EntryBody.MachineDescribed(new Machine { Name = name, TravelMm = [420, 580, 90] }, Retired: false) { Machine = name }).Require();
            journal.Append(new EntryBody.OperatorEntered(name) { Machine = name }).Require();
            journal.Append(new EntryBody.InstrumentDescribed(new Instrument(name, InstrumentKind.CaliperDigital, 0.03, 0.01, 150, name), Retired: false) { Machine = name }).Require();
            journal.Append(new EntryBody.Noted(null, $"{name} {name}") { Machine = name }).Require();
            journal.Append(new EntryBody.ChangeTold("belt-changed", "X", name) { Machine = name }).Require();
            using var window = new Headless(ScreenProgram.DeskOf(PracticeStore.Options(journal, 1) with { FineGlyphs = !ascii }, clock), ascii: ascii);
            foreach (var place in "bwftcklm")
            {
                window.Type(place.ToString());
                Assert.All(window.Rows.Take(24), row => Assert.True(row.Length <= 80, row));
                Assert.All(window.Rows.Take(24).SelectMany(row => row), c => Assert.True(IsNarrow(c), $"{(int)c:x4} at {place}"));
                Assert.Contains("A", window.Rows[0], StringComparison.Ordinal);
            }

            window.Type("l");
            Assert.Contains(window.Rows, row => row.Contains('A', StringComparison.Ordinal) && row.Contains('B', StringComparison.Ordinal));
        }
    }

    // Unicode Standard Annex 11, East Asian Width: none of these blocks is wide; lines, blocks and Braille are ambiguous or narrow, and locales in which they may be wide get none.
    private static bool IsNarrow(char c) => c is (>= ' ' and <= '~') or (>= '\u00a1' and <= '\u02ff' and not '\u00ad') or (>= '\u0370' and <= '\u0482') or (>= '\u048a' and <= '\u058f') or (>= '\u2500' and <= '\u259f') or (>= '\u2800' and <= '\u28ff') or '\u2192' or '\u00b1'
        || (c is >= '\u0900' and <= '\u0fff' && System.Globalization.CharUnicodeInfo.GetUnicodeCategory(c) == System.Globalization.UnicodeCategory.OtherLetter);

    private static Func<string, string?> Env(params (string Name, string Value)[] given) => name => given.FirstOrDefault(pair => pair.Name == name).Value;
}
