namespace Commission.Workshop.Screens.Sheets;

/// <summary>The frame of the boxes in which an axis letter acts on the machine.</summary>
internal static class Boxing
{
    /// <summary>Cells inside the frame.</summary>
    public const int Inner = 70;

    /// <summary>Its upper and lower edge.</summary>
    public static Line Edge => "   +" + new string('-', Inner) + "+";

    /// <summary>A row between its sides.</summary>
    public static Line Boxed(string text) => "   |" + text.PadRight(Inner) + "|";
}
