using Commission.App.Screens;
using Commission.Core.History;
using Commission.Workshop.Screens;
using Terminal.Gui.Drawing;
using Terminal.Gui.Input;
using Xunit;
using Glyphs = Commission.App.Screens.Glyphs;

namespace Commission.App.Tests.Screens;

/// <summary>Colours by look and by what the terminal can show; windows of every size.</summary>
public class LooksTests
{
    // Ratios by the formula of WCAG 2 (relative luminance, (L1 + 0.05) / (L2 + 0.05)); the last digit is that of the design's table.
    [Theory]
    [InlineData(Ink.Text, Look.Lamp, "#e6e1d6", "#1b1d1f", 13.0)]
    [InlineData(Ink.Quiet, Look.Lamp, "#a9a396", "#1b1d1f", 6.7)]
    [InlineData(Ink.Strong, Look.Lamp, "#ffffff", "#1b1d1f", 16.9)]
    [InlineData(Ink.Ochre, Look.Lamp, "#ffb454", "#1b1d1f", 9.6)]
    [InlineData(Ink.Blue, Look.Lamp, "#8fc7e8", "#1b1d1f", 9.3)]
    [InlineData(Ink.Key, Look.Lamp, "#8fc7e8", "#1b1d1f", 9.3)]
    [InlineData(Ink.Rule, Look.Lamp, "#5f5b53", "#1b1d1f", 2.5)]
    [InlineData(Ink.Focus, Look.Lamp, "#1b1d1f", "#e6e1d6", 13.0)]
    [InlineData(Ink.Hazard, Look.Lamp, "#000000", "#ffd000", 14.3)]
    [InlineData(Ink.Stop, Look.Lamp, "#ffffff", "#9c1111", 8.4)]
    [InlineData(Ink.Text, Look.Daylight, "#1f1d1a", "#f7f4ec", 15.3)]
    [InlineData(Ink.Quiet, Look.Daylight, "#5d584e", "#f7f4ec", 6.4)]
    [InlineData(Ink.Strong, Look.Daylight, "#000000", "#f7f4ec", 19.1)]
    [InlineData(Ink.Ochre, Look.Daylight, "#8a3b00", "#f7f4ec", 7.1)]
    [InlineData(Ink.Blue, Look.Daylight, "#0b4f7d", "#f7f4ec", 7.9)]
    [InlineData(Ink.Key, Look.Daylight, "#0b4f7d", "#f7f4ec", 7.9)]
    [InlineData(Ink.Rule, Look.Daylight, "#9a9486", "#f7f4ec", 2.8)]
    [InlineData(Ink.Focus, Look.Daylight, "#f7f4ec", "#1f1d1a", 15.3)]
    [InlineData(Ink.Hazard, Look.Daylight, "#000000", "#ffd000", 14.3)]
    [InlineData(Ink.Stop, Look.Daylight, "#ffffff", "#9c1111", 8.4)]
    public void Exact_hues_and_their_contrast_are_those_of_the_design(Ink ink, Look look, string text, string ground, double ratio)
    {
        Assert.Equal((text, ground), Looks.Hues(ink, look));
        var attribute = Looks.Of(ink, look, ColourDepth.Exact);
        Assert.Equal((text, ground), (Hex(attribute.Foreground), Hex(attribute.Background)));
        Assert.Equal(ink == Ink.Strong, attribute.Style.HasFlag(TextStyle.Bold));
        var (high, low) = (Math.Max(Luminance(attribute.Foreground), Luminance(attribute.Background)), Math.Min(Luminance(attribute.Foreground), Luminance(attribute.Background)));
        Assert.InRange((high + 0.05) / (low + 0.05), ratio - 0.06, ratio + 0.06);
    }

    [Theory]
    [InlineData(Ink.Text, Look.Lamp, "White", "Black")]
    [InlineData(Ink.Quiet, Look.Lamp, "Gray", "Black")]
    [InlineData(Ink.Strong, Look.Lamp, "White", "Black")]
    [InlineData(Ink.Ochre, Look.Lamp, "BrightYellow", "Black")]
    [InlineData(Ink.Blue, Look.Lamp, "BrightCyan", "Black")]
    [InlineData(Ink.Focus, Look.Lamp, "Black", "White")]
    [InlineData(Ink.Hazard, Look.Lamp, "Black", "BrightYellow")]
    [InlineData(Ink.Stop, Look.Lamp, "White", "Red")]
    [InlineData(Ink.Text, Look.Daylight, "Black", "White")]
    [InlineData(Ink.Quiet, Look.Daylight, "Black", "White")]
    [InlineData(Ink.Ochre, Look.Daylight, "Red", "White")]
    [InlineData(Ink.Blue, Look.Daylight, "Blue", "White")]
    [InlineData(Ink.Focus, Look.Daylight, "White", "Black")]
    [InlineData(Ink.Hazard, Look.Daylight, "Black", "BrightYellow")]
    [InlineData(Ink.Stop, Look.Daylight, "White", "Red")]
    public void Of_sixteen_colours_text_and_ground_are_both_set(Ink ink, Look look, string text, string ground)
    {
        var attribute = Looks.Of(ink, look, ColourDepth.Sixteen);
        Assert.Equal((Enum.Parse<ColorName16>(text), Enum.Parse<ColorName16>(ground)), (attribute.Foreground.GetClosestNamedColor16(), attribute.Background.GetClosestNamedColor16()));
    }

    [Fact]
    public void Without_colour_form_alone_speaks()
    {
        foreach (var ink in Enum.GetValues<Ink>())
        {
            foreach (var attribute in new[] { Looks.Of(ink, Look.Mono, ColourDepth.Exact), Looks.Of(ink, Look.Lamp, ColourDepth.None) })
            {
                Assert.Equal((Color.None, Color.None), (attribute.Foreground, attribute.Background));
                Assert.False(attribute.Style.HasFlag(TextStyle.Blink) || attribute.Style.HasFlag(TextStyle.Faint) || attribute.Style.HasFlag(TextStyle.Italic));
            }
        }

        Assert.Equal(TextStyle.Reverse, Looks.Of(Ink.Stop, Look.Mono, ColourDepth.None).Style);
        Assert.Equal(TextStyle.Reverse, Looks.Of(Ink.Focus, Look.Mono, ColourDepth.None).Style);
        Assert.Equal(TextStyle.Underline, Looks.Of(Ink.Key, Look.Mono, ColourDepth.None).Style);
        Assert.Equal(TextStyle.Bold, Looks.Of(Ink.Strong, Look.Mono, ColourDepth.None).Style);
    }

    // The sequences as they leave: SGR of ECMA-48, 24 bits as 38;2, the 256 as 38;5.
    [Theory]
    [InlineData("TERM=xterm-256color COLORTERM=truecolor", "38;2;230;225;214", "38;5;")]
    [InlineData("TERM=xterm-256color COLORTERM=", "97", "38;")]
    [InlineData("TERM=xterm COLORTERM=", "97", "38;")]
    [InlineData("TERM=xterm-256color COLORTERM=truecolor NO_COLOR=1", "39", "38;")]
    [InlineData("TERM=xterm-256color COLORTERM=truecolor COMMISSION_LOOK=daylight", "38;2;31;29;26", "38;2;230;225;214")]
    public void The_sequences_that_leave_are_those_the_terminal_understands(string with, string has, string hasNot)
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there is no such terminal here");
        var raw = Path.GetTempFileName();
        try
        {
            using (var terminal = new Tmux(80, 24, $"env -u NO_COLOR -u COLORFGBG -u COMMISSION_LOOK LC_ALL=C {with} \"{Path.Combine(AppContext.BaseDirectory, "commission")}\" rehearse", raw))
                terminal.Until(screen => screen.Contains("Q leave", StringComparison.Ordinal), "the bench");
            var colours = string.Join(' ', System.Text.RegularExpressions.Regex.Matches(File.ReadAllText(raw), "\x1b\\[([0-9;]*)m").Select(match => match.Groups[1].Value));
            Assert.Contains(has, colours, StringComparison.Ordinal);
            Assert.DoesNotContain(hasNot, colours, StringComparison.Ordinal);
        }
        finally
        {
            File.Delete(raw);
        }
    }

    [Fact]
    public void A_window_of_200_by_60_is_used_by_bench_readings_finding_and_trend()
    {
        var clock = KnownMachine.Clock();
        using var journal = KnownMachine.Journal(clock);
        using var window = new Headless(ScreenProgram.DeskOf(KnownMachine.Options(journal), clock), 200, 60);
        Golden.Same("bench-known-200x60", window);
        window.Type("\ns\ns");
        Story.Read(window, 6);
        Golden.Same("readings-seventh-200x60", window);
        Story.Read(window, 4);
        window.Type("s");
        Golden.Same("finding-200x60", window);
        window.Type("g");
        Golden.Same("picture-200x60", window);
        window.Press(Key.Esc);
        window.Type("t\n");
        Golden.Same("trend-series-200x60", window);
    }

    [Theory]
    [InlineData('b')]
    [InlineData('w')]
    [InlineData('f')]
    [InlineData('t')]
    [InlineData('c')]
    [InlineData('k')]
    [InlineData('l')]
    [InlineData('m')]
    public void A_window_that_changes_its_size_at_any_place_loses_nothing_of_it_nor_a_half_typed_number(char place)
    {
        var clock = KnownMachine.Clock();
        using var journal = KnownMachine.Journal(clock);
        using var window = new Headless(ScreenProgram.DeskOf(KnownMachine.Options(journal), clock));
        window.Type("\ns\ns12.3");
        Sizes(window);
        Assert.Contains("[   12.3_ ] mm", window.Text, StringComparison.Ordinal);
        window.Type(place.ToString());
        Sizes(window);
        window.Type("w");
        Assert.Contains("[   12.3_ ] mm", window.Text, StringComparison.Ordinal);
        Assert.Empty(Ledger.From(journal.Entries()).Readings);
    }

    [Fact]
    public void Lines_and_Braille_dots_pass_and_a_locale_in_which_they_may_be_wide_has_none()
    {
        Assert.Equal("\u2502 \u28ff \u2514\u2500", Glyphs.Fine("\u2502 \u28ff \u2514\u2500"));
        Assert.Equal("? ? ??", Glyphs.Ascii("\u2502 \u28ff \u2514\u2500"));
        Assert.False(Glyphs.HasMore(name => name switch { "LANG" => "ja_JP.UTF-8", "TERM" => "xterm-256color", _ => null }));
    }

    [Fact]
    public void The_handbooks_page_of_a_step_is_one_key_away()
    {
        var clock = KnownMachine.Clock();
        using var journal = KnownMachine.Journal(clock);
        using var window = new Headless(ScreenProgram.DeskOf(KnownMachine.Options(journal), clock), 80, 60);
        window.Type("\ns\ns");
        window.Press(Key.F1);
        Assert.Contains("The handbook:", window.Text, StringComparison.Ordinal);
        Assert.Contains(Core.Reports.HandbookPages.Lines(Core.Reports.HandbookPages.NameOf("axis-scale")!)[0], window.Text, StringComparison.Ordinal);
    }

    private static void Sizes(Headless window)
    {
        var before = window.Text;
        foreach (var (width, height) in new[] { (200, 60), (120, 40), (61, 21), (10, 3), (80, 24) })
        {
            window.Resize(width, height);
            Assert.True(width >= 80 || window.Text.TrimStart().StartsWith("Make the"[..Math.Min(8, width)], StringComparison.Ordinal), window.Text);
        }

        Assert.Equal(before, window.Text);
    }

    private static string Hex(Color colour) => $"#{colour.R:x2}{colour.G:x2}{colour.B:x2}";

    private static double Luminance(Color colour)
    {
        static double Linear(byte value) => value / 255.0 is var part && part <= 0.03928 ? part / 12.92 : Math.Pow(((value / 255.0) + 0.055) / 1.055, 2.4);
        return (0.2126 * Linear(colour.R)) + (0.7152 * Linear(colour.G)) + (0.0722 * Linear(colour.B));
    }
}
