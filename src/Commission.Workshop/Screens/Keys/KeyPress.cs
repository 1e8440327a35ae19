namespace Commission.Workshop.Screens.Keys;

/// <summary>Keys without a printed character that mean something here.</summary>
public enum NamedKey
{
    /// <summary>A printed character.</summary>
    None,

    /// <summary>Either Enter, also as a line feed.</summary>
    Enter,

    /// <summary>Tab.</summary>
    Tab,

    /// <summary>Shift and Tab.</summary>
    BackTab,

    /// <summary>Backspace.</summary>
    Backspace,

    /// <summary>Escape.</summary>
    Escape,

    /// <summary>Arrow up.</summary>
    Up,

    /// <summary>Arrow down.</summary>
    Down,

    /// <summary>Arrow left.</summary>
    Left,

    /// <summary>Arrow right.</summary>
    Right,

    /// <summary>Page up.</summary>
    PageUp,

    /// <summary>Page down.</summary>
    PageDown,

    /// <summary>Home.</summary>
    Top,

    /// <summary>End.</summary>
    Bottom,

    /// <summary>Help.</summary>
    F1,

    /// <summary>The card.</summary>
    F2,

    /// <summary>F9 or Ctrl+C.</summary>
    Stop,

    /// <summary>Any other key; it stops a move all the same.</summary>
    Other,
}

/// <summary>A key as it arrived.</summary>
/// <param name="Character">The printed character; null for a named key.</param>
/// <param name="Name">The named key.</param>
/// <param name="AtMs">Monotonic time of arrival, ms.</param>
public readonly record struct KeyPress(char? Character, NamedKey Name, long AtMs)
{
    /// <summary>A printed character.</summary>
    public static KeyPress Of(char character, long atMs) => new(character, NamedKey.None, atMs);

    /// <summary>A named key.</summary>
    public static KeyPress Of(NamedKey name, long atMs) => new(null, name, atMs);

    /// <summary>The letter as a capital; null where it is none.</summary>
    public char? Letter => Character is { } c && char.IsAsciiLetter(c) ? char.ToUpperInvariant(c) : null;

    /// <summary>How the key is called in a sentence.</summary>
    public string Called => Character switch
    {
        ' ' => "space bar",
        { } c => char.ToUpperInvariant(c).ToString(),
        null => Name.ToString(),
    };
}
