using Commission.Workshop.Screens;
using Terminal.Gui.Drawing;
using Glyphs = Commission.App.Screens.Glyphs;

namespace Commission.App.Tests.Screens;

/// <summary>Colours by look and by what the terminal can show.</summary>
public sealed partial class LooksTests
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
        Assert.InRange(Contrast(attribute.Foreground, attribute.Background), ratio - 0.06, ratio + 0.06);
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

    // SGR of ECMA-48, 5th edition, 8.3.117: 30-37 and 40-47 the eight, 90-97 and 100-107 their bright twins (common practice), 38 and 48 all others; 39 and 49 take the terminal's own.
    private const string Sixteen = "^(0|1|3[0-7]|4[0-7]|9[0-7]|10[0-7])$";

    private const string Exact = "^(0|1|[34]8;2;[0-9]+;[0-9]+;[0-9]+)$";

    private const string WithoutBold = "^(0|3[0-7]|4[0-7]|9[0-7]|10[0-7])$";

    private const string NoColour = "^[0147]$";

    // 16 to 255: the entries that are the same everywhere.
    private const string Palette = "^(0|1|[34]8;5;(1[6-9]|[2-9][0-9]|1[0-9][0-9]|2[0-4][0-9]|25[0-5]))$";

    [Theory]
    [InlineData("TERM=xterm LANG=C", Sixteen, "97")]
    [InlineData("TERM=vt100 LANG=C", Sixteen, "97")]
    [InlineData("TERM=screen LANG=C.UTF-8", Sixteen, "97")]
    [InlineData("TERM=linux LANG=C COLORFGBG=0;15", WithoutBold, "34")]
    [InlineData("TERM=xterm-256color LANG=C", Palette, "38;5;254")]
    [InlineData("TERM=screen-256color LANG=C.UTF-8", Palette, "48;5;234")]
    [InlineData("TERM=xterm-256color LANG=C COLORFGBG=0;15", Palette, "48;5;255")]
    [InlineData("TERM=xterm-256color LANG=C COMMISSION_LOOK=mono", NoColour, "7")]
    [InlineData("TERM=xterm LANG=C NO_COLOR=1", NoColour, "7")]
    [InlineData("TERM=xterm-256color COLORTERM=truecolor LANG=C NO_COLOR=1", NoColour, "7")]
    [InlineData("TERM=xterm-256color COLORTERM=truecolor LANG=C", Exact, "38;2;230;225;214")]
    [InlineData("TERM=xterm-256color COLORTERM=truecolor LANG=C COMMISSION_LOOK=daylight", Exact, "38;2;31;29;26")]
    [InlineData("TERM=xterm-256color COLORTERM=truecolor LANG=C.UTF-8 COMMISSION_LOOK=ascii", NoColour, "7")]
    public void Every_colour_and_letter_that_leaves_is_one_the_terminal_understands(string with, string allowed, string has)
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there is no such terminal here");
        var raw = Raw(with);
        var sequences = Sgr().Matches(raw).Select(match => match.Groups[1].Value).ToList();
        Assert.Contains(has, sequences);
        // Styles may share a sequence; a colour of 24 bits is one of five numbers.
        Assert.All(sequences.SelectMany(sequence => sequence.Length > 1 && sequence[1] == '8' ? [sequence] : sequence.Split(';')), one => Assert.Matches(allowed, one));
        Assert.Equal(!with.Contains("LANG=C.UTF-8", StringComparison.Ordinal) || with.Contains("ascii", StringComparison.Ordinal), raw.All(c => c <= '~'));
    }

    // Bench, route card, kit, trend and controller, as the bytes leave the program.
    private static string Raw(string with)
    {
        var file = Path.GetTempFileName();
        try
        {
            using (var terminal = new Tmux(80, 24, $"env -u NO_COLOR -u COLORFGBG -u COLORTERM -u COMMISSION_LOOK -u LC_ALL -u LC_CTYPE '{with.Replace(" ", "' '", StringComparison.Ordinal)}' {Tmux.Program} rehearse", file))
            {
                terminal.Until(screen => screen.Contains("Q leave", StringComparison.Ordinal), "the bench");
                foreach (var key in (string[])["Enter", "k", "t", "c"])
                    terminal.Keys(key);
            }

            return File.ReadAllText(file, System.Text.Encoding.Latin1);
        }
        finally
        {
            File.Delete(file);
        }
    }

    // Common practice, no source: a cube of 0, 95, 135, 175, 215, 255 from 16 on, a ramp of greys from 8 in steps of 10 from 232 on.
    [Theory]
    [InlineData(16, 0, 0, 0)]
    [InlineData(88, 135, 0, 0)]
    [InlineData(117, 135, 215, 255)]
    [InlineData(215, 255, 175, 95)]
    [InlineData(231, 255, 255, 255)]
    [InlineData(232, 8, 8, 8)]
    [InlineData(255, 238, 238, 238)]
    public void Entries_of_the_palette_are_those_of_the_cube_and_of_the_ramp(int entry, int red, int green, int blue) => Assert.Equal((red, green, blue), PaletteEntry.Hue(entry));

    // Distance of CIE 1976 L*a*b* (CIE 015:2018, 8.2.1, from memory), D65.
    [Fact]
    public void Of_the_palette_each_ink_has_the_nearest_entry_that_can_be_read_on_its_ground()
    {
        foreach (var (ink, look) in from ink in Enum.GetValues<Ink>() from look in new[] { Look.Lamp, Look.Daylight } select (ink, look))
        {
            var (text, ground) = Looks.Hues(ink, look);
            var chosen = Looks.Entries(ink, look);
            // Exchanged in focus, so the ground is the text of the others.
            if (ink == Ink.Focus)
            {
                Assert.Equal(Looks.Entries(Ink.Text, look), (chosen.Ground, chosen.Text));
                continue;
            }

            Assert.Equal(Nearest(ground, _ => true), chosen.Ground);
            Assert.Equal(Nearest(text, entry => ink == Ink.Rule || Contrast(Entry(entry), Entry(chosen.Ground)) >= 4.5), chosen.Text);
        }
    }

    private static int Nearest(string hue, Func<int, bool> may) =>
        Enumerable.Range(PaletteEntry.Cube, PaletteEntry.Last - PaletteEntry.Cube + 1).Where(may).MinBy(entry => Apart(Of(hue), Entry(entry)));

    private static Color Of(string hue) => new(Convert.ToInt32(hue[1..3], 16), Convert.ToInt32(hue[3..5], 16), Convert.ToInt32(hue[5..7], 16));

    private static Color Entry(int entry) => PaletteEntry.Hue(entry) is var (red, green, blue) ? new(red, green, blue) : throw new System.Diagnostics.UnreachableException();

    private static double Apart(Color one, Color other) => (Lab(one), Lab(other)) is var ((l1, a1, b1), (l2, a2, b2)) ? Math.Sqrt(((l1 - l2) * (l1 - l2)) + ((a1 - a2) * (a1 - a2)) + ((b1 - b2) * (b1 - b2))) : 0;

    // From sRGB by way of XYZ (IEC 61966-2-1:1999, from memory).
    private static (double L, double A, double B) Lab(Color colour)
    {
        var (r, g, b) = (Linear(colour.R), Linear(colour.G), Linear(colour.B));
        static double F(double t) => t > 216.0 / 24389 ? Math.Cbrt(t) : ((24389.0 / 27 * t) + 16) / 116;
        var x = F(((0.4124564 * r) + (0.3575761 * g) + (0.1804375 * b)) / 0.95047);
        var y = F((0.2126729 * r) + (0.7151522 * g) + (0.0721750 * b));
        var z = F(((0.0193339 * r) + (0.1191920 * g) + (0.9503041 * b)) / 1.08883);
        return ((116 * y) - 16, 500 * (x - y), 200 * (y - z));
    }

    // WCAG 2.2 (W3C Recommendation), success criterion 1.4.3: 4.5 to 1 for text. The rule of row 2 carries none and says nothing that the blank row would not.
    [Fact]
    public void Text_stands_out_from_its_ground_by_at_least_4_5_to_1_in_every_look_and_depth()
    {
        foreach (var (ink, look) in from ink in Enum.GetValues<Ink>() where ink != Ink.Rule from look in new[] { Look.Lamp, Look.Daylight } select (ink, look))
        {
            foreach (var depth in new[] { ColourDepth.Exact, ColourDepth.Palette, ColourDepth.Sixteen })
            {
                var attribute = Looks.Of(ink, look, depth);
                var (text, ground) = depth != ColourDepth.Sixteen ? (attribute.Foreground, attribute.Background) : (Nominal(attribute.Foreground), Nominal(attribute.Background));
                Assert.True(Contrast(text, ground) >= 4.5, $"{ink} {look} {depth}: {Contrast(text, ground):0.0}");
                // Bold is bright on some terminals: then the bright twin has to stand out as well.
                if (depth == ColourDepth.Sixteen && attribute.Style.HasFlag(TextStyle.Bold))
                    Assert.True(Contrast(Bright(text), ground) >= 4.5, $"{ink} {look} in bold: {Contrast(Bright(text), ground):0.0}");
            }
        }
    }

    // What terminals mean by the sixteen, nominally: 0, 128 and 255, and 192 for grey (common practice, no source); the user may bend them.
    private static Color Nominal(Color colour) => colour.GetClosestNamedColor16() switch
    {
        ColorName16.Black => new(0, 0, 0),
        ColorName16.Red => new(128, 0, 0),
        ColorName16.Blue => new(0, 0, 128),
        ColorName16.Gray => new(192, 192, 192),
        ColorName16.BrightYellow => new(255, 255, 0),
        ColorName16.BrightCyan => new(0, 255, 255),
        ColorName16.White => new(255, 255, 255),
        var other => throw new InvalidOperationException($"{other} is none of ours"),
    };

    private static Color Bright(Color colour) => colour == new Color(0, 0, 0) ? new(128, 128, 128) : colour;

    private static double Contrast(Color text, Color ground)
    {
        var (high, low) = (Math.Max(Luminance(text), Luminance(ground)), Math.Min(Luminance(text), Luminance(ground)));
        return (high + 0.05) / (low + 0.05);
    }

    [Fact]
    public void Lines_and_Braille_dots_pass_and_a_locale_in_which_they_may_be_wide_has_none()
    {
        Assert.Equal("\u2502 \u28ff \u2514\u2500", Glyphs.Fine("\u2502 \u28ff \u2514\u2500"));
        Assert.Equal("? ? ??", Glyphs.Ascii("\u2502 \u28ff \u2514\u2500"));
        Assert.False(Glyphs.HasMore(name => name switch { "LANG" => "ja_JP.UTF-8", "TERM" => "xterm-256color", _ => null }));
    }

    private static string Hex(Color colour) => $"#{colour.R:x2}{colour.G:x2}{colour.B:x2}";

    private static double Luminance(Color colour)
    {
        return (0.2126 * Linear(colour.R)) + (0.7152 * Linear(colour.G)) + (0.0722 * Linear(colour.B));
    }

    private static double Linear(byte value) => value / 255.0 is var part && part <= 0.03928 ? part / 12.92 : Math.Pow(((value / 255.0) + 0.055) / 1.055, 2.4);

    [System.Text.RegularExpressions.GeneratedRegex("\x1b\\[([0-9;]*)m")]
    private static partial System.Text.RegularExpressions.Regex Sgr();
}
