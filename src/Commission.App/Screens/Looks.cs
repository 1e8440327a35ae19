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

    /// <summary>Exact hues, as 24 bits or rounded by the terminal to its 256.</summary>
    Exact,
}

/// <summary>Attributes for every ink.</summary>
public static class Looks
{
    /// <summary>What the environment says about colours.</summary>
    /// <param name="read">Reads an environment variable.</param>
    public static ColourDepth Depth(Func<string, string?> read)
    {
        if (!string.IsNullOrEmpty(read("NO_COLOR")))
        {
            return ColourDepth.None;
        }

        var exact = read("COLORTERM") is "truecolor" or "24bit";
        var term = read("TERM") ?? "";
        if (!exact && (read("TERM_PROGRAM") == "Apple_Terminal" || !term.Contains("256", StringComparison.Ordinal)))
        {
            return OperatingSystem.IsWindows() ? ColourDepth.Exact : ColourDepth.Sixteen;
        }

        return ColourDepth.Exact;
    }

    /// <summary>The attribute of an ink.</summary>
    public static Attribute Of(Ink ink, Look look, ColourDepth depth) => depth == ColourDepth.None || look == Look.Mono
        ? Mono(ink)
        : depth == ColourDepth.Sixteen ? Sixteen(ink, look) : Exact(ink, look);

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

    private static Attribute Exact(Ink ink, Look look)
    {
        var lamp = look == Look.Lamp;
        var ground = Hex(lamp ? "#1b1d1f" : "#f7f4ec");
        var text = Hex(lamp ? "#e6e1d6" : "#1f1d1a");
        return ink switch
        {
            Ink.Quiet => new(Hex(lamp ? "#a9a396" : "#5d584e"), ground),
            Ink.Strong => Bold(new(Hex(lamp ? "#ffffff" : "#000000"), ground)),
            Ink.Ochre => new(Hex(lamp ? "#ffb454" : "#8a3b00"), ground),
            Ink.Blue or Ink.Key => new(Hex(lamp ? "#8fc7e8" : "#0b4f7d"), ground),
            Ink.Rule => new(Hex(lamp ? "#5f5b53" : "#9a9486"), ground),
            Ink.Focus => new(ground, text),
            Ink.Hazard => new(Hex("#000000"), Hex("#ffd000")),
            Ink.Stop => new(Hex("#ffffff"), Hex("#9c1111")),
            _ => new(text, ground),
        };
    }

    private static Attribute Sixteen(Ink ink, Look look)
    {
        var lamp = look == Look.Lamp;
        var ground = lamp ? Color.Black : Color.White;
        var text = lamp ? Color.White : Color.Black;
        return ink switch
        {
            Ink.Quiet or Ink.Rule => new(lamp ? Color.Gray : Color.Black, ground),
            Ink.Strong => Bold(new(text, ground)),
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
