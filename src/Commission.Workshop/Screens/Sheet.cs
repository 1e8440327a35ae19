using System.Collections.Immutable;

namespace Commission.Workshop.Screens;

/// <summary>A key of a sheet, as data.</summary>
/// <param name="Key">The key as printed: a letter, <c>Enter</c>, <c>F2</c>.</param>
/// <param name="Word">What it does, in a word or two.</param>
/// <param name="Action">Id of what it asks for.</param>
/// <param name="NotNow">Why it cannot be pressed now; null where it can. Such keys stand on the card, not in row 24.</param>
public sealed record SheetKey(string Key, string Word, string Action, string? NotNow = null)
{
    /// <summary>Whether it works without standing in row 24: another key of the row says the same.</summary>
    public bool Quiet { get; init; }

    /// <summary>The letter, where the key is one; else null.</summary>
    public char? Letter => Key.Length == 1 && char.IsAsciiLetterUpper(Key[0]) ? Key[0] : null;
}

/// <summary>The live strip of row 23.</summary>
/// <param name="Words">Link, position, trust, in words.</param>
/// <param name="Stops">Whether a controller is linked, so that STOP does something.</param>
public sealed record LiveStrip(string Words, bool Stops)
{
    /// <summary>The strip without a controller: it must not seem that F9 stops something.</summary>
    public static LiveStrip None { get; } = new("link none . you command the moves, this program writes down", false);

    /// <summary>The strip on the practice machine.</summary>
    public static LiveStrip Practice { get; } = new("link practice . moves and readings are simulated", false);

    /// <summary>Shorter words for a strip with less room, the longest first; each says what matters.</summary>
    public ImmutableArray<string> Shorter { get; init; } = [];

    /// <summary>Whether two strips say the same.</summary>
    public bool Equals(LiveStrip? other) => other is not null && other.Words == Words && other.Stops == Stops;

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Words, Stops);

    /// <summary>The STOP field at the right.</summary>
    public string StopField => Stops ? "[STOP F9]" : "[STOP --]";
}

/// <summary>A screen as text: a form of 24 rows, or more where there is room. Views draw it and decide nothing.</summary>
public sealed record Sheet
{
    /// <summary>Where one is, left in row 1.</summary>
    public required string Path { get; init; }

    /// <summary>Date or count, right in row 1.</summary>
    public string Right { get; init; } = "";

    /// <summary>The body, rows 3 to 20 and more in larger windows.</summary>
    public ImmutableArray<Line> Body { get; init; } = [];

    /// <summary>What Enter does, row 21, after <c>NEXT &gt;&gt;</c>.</summary>
    public required string Next { get; init; }

    /// <summary>Why, or what Enter will not do, row 22.</summary>
    public required string Because { get; init; }

    /// <summary>Row 23.</summary>
    public LiveStrip Live { get; init; } = LiveStrip.None;

    /// <summary>The deeds of the sheet; row 24 shows those that can be pressed.</summary>
    public ImmutableArray<SheetKey> Keys { get; init; } = [];

    /// <summary>Blanks between the keys of row 24; null for three where there is room and two where not.</summary>
    public int? KeyGap { get; init; }

    /// <summary>Body row and column of the cell that takes what is typed; null where nothing is typed.</summary>
    public (int Row, int Column)? Cursor { get; init; }

    /// <summary>Whether the sheet belongs to the practice machine.</summary>
    public bool IsPractice { get; init; }

    /// <summary>A message until the next key, in row 22 in place of the reason, or above NEXT where it is longer and has the room; null for none.</summary>
    public string? Message { get; init; }

    /// <summary>What a window too small for the sheet must say all the same; null where it is only too small.</summary>
    public string? WhereSmall { get; init; }
}
