namespace Commission.App.Screens;

/// <summary>The entries of a palette of 256 that are the same in every terminal: from 16 on a cube of six steps each for red, green and blue, from 232 on a ramp of 24 greys (common practice, no source).</summary>
public static class PaletteEntry
{
    /// <summary>First entry of the cube, first of the ramp, and the last one of all.</summary>
    public const int Cube = 16, Ramp = 232, Last = 255;

    private const int Steps = 6;
    private const int Darkest = 8, GreyStep = 10;

    private static readonly int[] Levels = [0, 95, 135, 175, 215, 255];

    /// <summary>Red, green and blue of an entry from <see cref="Cube"/> on.</summary>
    public static (int Red, int Green, int Blue) Hue(int entry)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(entry, Cube);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(entry, Last);
        if (entry >= Ramp && Darkest + (GreyStep * (entry - Ramp)) is var grey)
            return (grey, grey, grey);
        var at = entry - Cube;
        return (Levels[at / (Steps * Steps)], Levels[at / Steps % Steps], Levels[at % Steps]);
    }
}
