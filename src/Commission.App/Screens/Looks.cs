using System.Globalization;
using Commission.Workshop.Screens;
using Terminal.Gui.Drawing;
using Attribute = Terminal.Gui.Drawing.Attribute;

namespace Commission.App.Screens;

/// <summary>How the sheets are coloured. Form says everything; colour repeats it in two hues.</summary>
public enum Look
{
    /// <summary>Light on dark.</summary>
    Lamp,

    /// <summary>Dark on light.</summary>
    Daylight,

    /// <summary>The terminal's own two colours: bold, underline, reverse.</summary>
    Mono,
}

/// <summary>Colours the terminal can show.</summary>
public enum ColourDepth
{
    /// <summary>None at all, or none wanted.</summary>
    None,

    /// <summary>The sixteen named ones.</summary>
    Sixteen,

    /// <summary>A palette of 256: the sixteen, whose hues are the owner's, then a cube and a ramp of greys that are the same everywhere.</summary>
    Palette,

    /// <summary>Exact hues, as 24 bits: only where the terminal says that it takes them.</summary>
    Exact,
}

/// <summary>Attributes for every ink.</summary>
public static class Looks
{
    // From the code of a text's colour to that of a ground.
    private const int ToGround = 10;

    /// <summary>What the environment says about colours.</summary>
    /// <param name="read">Reads an environment variable.</param>
    public static ColourDepth Depth(Func<string, string?> read)
    {
        if (!string.IsNullOrEmpty(read("NO_COLOR")))
        {
            return ColourDepth.None;
        }

        var name = read("TERM") ?? "";
        if (read("COLORTERM") is "truecolor" or "24bit" || name.EndsWith("-direct", StringComparison.Ordinal) || OperatingSystem.IsWindows())
            return ColourDepth.Exact;
        return name.Contains("256color", StringComparison.Ordinal) ? ColourDepth.Palette : ColourDepth.Sixteen;
    }

    /// <summary>The look to start with: what the environment asks for or says of ground and characters.</summary>
    /// <param name="depth">Colours of the terminal.</param>
    /// <param name="plain">Only ASCII and no colour.</param>
    /// <param name="read">Reads an environment variable.</param>
    public static WindowLooks Started(ColourDepth depth, bool plain, Func<string, string?> read)
    {
        // Some terminals tell their ground as the last of two or three numbers: 7 and 15 are light.
        var ground = read("COLORFGBG")?.Split(';')[^1];
        var wished = read("COMMISSION_LOOK") switch
        {
            "daylight" => Look.Daylight,
            "lamp" => Look.Lamp,
            "mono" or "ascii" => Look.Mono,
            _ => ground is "7" or "15" ? Look.Daylight : Look.Lamp,
        };
        return new WindowLooks(wished, depth, Ascii: plain || read("COMMISSION_LOOK") == "ascii" || !Glyphs.HasMore(read));
    }

    /// <summary>The attribute of an ink.</summary>
    public static Attribute Of(Ink ink, Look look, ColourDepth depth) => depth switch
    {
        _ when look == Look.Mono => Mono(ink),
        ColourDepth.None => Mono(ink),
        ColourDepth.Sixteen => Sixteen(ink, look),
        ColourDepth.Palette => OfPalette(ink, look),
        _ => Exact(ink, look),
    };

    /// <summary>What puts an ink into force, whatever stood before (SGR of ECMA-48, 5th edition, 8.3.117).</summary>
    public static string Sequence(Ink ink, Look look, ColourDepth depth)
    {
        var attribute = Of(ink, look, depth);
        var style = attribute.Style switch { TextStyle.Bold => Sgr($"1"), TextStyle.Underline => Sgr($"4"), TextStyle.Reverse => Sgr($"7"), _ => "" };
        return Sgr($"0") + style + (depth, attribute.Foreground == Color.None) switch
        {
            // The terminal's own two colours are in force already.
            (_, true) => "",
            (ColourDepth.Sixteen, _) => Sgr($"{(int)attribute.Foreground.GetAnsiColorCode()}") + Sgr($"{(int)attribute.Background.GetAnsiColorCode() + ToGround}"),
            (ColourDepth.Palette, _) => Entries(ink, look) is var (text, ground) ? Sgr($"38;5;{text}") + Sgr($"48;5;{ground}") : "",
            _ => Sgr($"38;2;{Levels(attribute.Foreground)}") + Sgr($"48;2;{Levels(attribute.Background)}"),
        };
    }

    private static string Sgr(FormattableString codes) => $"\x1b[{codes.ToString(CultureInfo.InvariantCulture)}m";

    private static string Levels(Color colour) => string.Create(CultureInfo.InvariantCulture, $"{colour.R};{colour.G};{colour.B}");

    private static Attribute Mono(Ink ink) => new Attribute(Color.None, Color.None) with
    {
        Style = ink switch
        {
            Ink.Strong or Ink.Ochre or Ink.Hazard => TextStyle.Bold,
            Ink.Key => TextStyle.Underline,
            Ink.Focus or Ink.Stop => TextStyle.Reverse,
            _ => TextStyle.None,
        },
    };

    /// <summary>Text and ground of an ink as exact hues.</summary>
    public static (string Text, string Ground) Hues(Ink ink, Look look)
    {
        var lamp = look == Look.Lamp;
        var ground = lamp ? "#1b1d1f" : "#f7f4ec";
        var text = lamp ? "#e6e1d6" : "#1f1d1a";
        return ink switch
        {
            Ink.Quiet => (lamp ? "#a9a396" : "#5d584e", ground),
            Ink.Strong => (lamp ? "#ffffff" : "#000000", ground),
            Ink.Ochre => (lamp ? "#ffb454" : "#8a3b00", ground),
            Ink.Blue or Ink.Key => (lamp ? "#8fc7e8" : "#0b4f7d", ground),
            Ink.Rule => (lamp ? "#5f5b53" : "#9a9486", ground),
            Ink.Focus => (ground, text),
            Ink.Hazard => ("#000000", "#ffd000"),
            Ink.Stop => ("#ffffff", "#9c1111"),
            _ => (text, ground),
        };
    }

    private static Attribute Exact(Ink ink, Look look)
    {
        var (text, ground) = Hues(ink, look);
        var attribute = new Attribute(Hex(text), Hex(ground));
        return ink == Ink.Strong ? Bold(attribute) : attribute;
    }

    /// <summary>Text and ground of an ink as entries of the palette of 256: the nearest to the exact hues on which text can be read. The first sixteen are not used: they differ from terminal to terminal.</summary>
    public static (int Text, int Ground) Entries(Ink ink, Look look)
    {
        var lamp = look == Look.Lamp;
        var ground = lamp ? 234 : 255;
        var text = lamp ? 254 : 234;
        return ink switch
        {
            Ink.Quiet => (lamp ? 248 : 240, ground),
            Ink.Strong => (lamp ? 231 : 16, ground),
            Ink.Ochre => (lamp ? 215 : 88, ground),
            Ink.Blue or Ink.Key => (lamp ? 117 : 24, ground),
            Ink.Rule => (lamp ? 240 : 246, ground),
            Ink.Focus => (ground, text),
            Ink.Hazard => (16, 220),
            Ink.Stop => (231, 88),
            _ => (text, ground),
        };
    }

    private static Attribute OfPalette(Ink ink, Look look)
    {
        var (text, ground) = Entries(ink, look);
        var attribute = new Attribute(Hue(text), Hue(ground));
        return ink == Ink.Strong ? Bold(attribute) : attribute;
    }

    private static Color Hue(int entry) => PaletteEntry.Hue(entry) is var (red, green, blue) ? new(red, green, blue) : Color.None;

    private static Attribute Sixteen(Ink ink, Look look)
    {
        var lamp = look == Look.Lamp;
        var ground = lamp ? Color.Black : Color.White;
        var text = lamp ? Color.White : Color.Black;
        return ink switch
        {
            Ink.Quiet or Ink.Rule => new(lamp ? Color.Gray : Color.Black, ground),
            // Where bold means bright, bold black is a grey of 3.9 to 1 on white: there the place in the sheet says it alone.
            Ink.Strong when lamp => Bold(new(text, ground)),
            Ink.Ochre => new(lamp ? Color.BrightYellow : Color.Red, ground),
            Ink.Blue or Ink.Key => new(lamp ? Color.BrightCyan : Color.Blue, ground),
            Ink.Focus => new(ground, text),
            Ink.Hazard => new(Color.Black, Color.BrightYellow),
            Ink.Stop => new(Color.White, Color.Red),
            _ => new(text, ground),
        };
    }

    private static Attribute Bold(Attribute attribute) => attribute with { Style = TextStyle.Bold };

    private static Color Hex(string hex) => new(
        Convert.ToInt32(hex[1..3], 16), Convert.ToInt32(hex[3..5], 16), Convert.ToInt32(hex[5..7], 16));
}
