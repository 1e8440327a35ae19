using System.Collections.Immutable;

namespace Commission.Workshop.Screens.Keys;

/// <summary>A box that acts on the machine, waiting for its letter.</summary>
/// <param name="Letter">The letter that confirms: X, Y, Z or H.</param>
/// <param name="DrawnAtMs">When the box was drawn, monotonic, ms.</param>
/// <param name="ButtonFocused">Whether Tab has reached its button: Space then presses it, for keyboards without the letter.</param>
public sealed record OpenBox(char Letter, long DrawnAtMs, bool ButtonFocused = false);

/// <summary>A move that was confirmed and is under way.</summary>
/// <param name="Letter">The letter that confirmed it.</param>
/// <param name="ConfirmedAtMs">When, monotonic, ms.</param>
public sealed record MoveUnderWay(char Letter, long ConfirmedAtMs);

/// <summary>What the keys meet: a projection of the sheet that is shown.</summary>
public sealed record KeyScene
{
    /// <summary>The move under way; null at rest.</summary>
    public MoveUnderWay? Moving { get; init; }

    /// <summary>Whether the sheet cannot be seen: no key but STOP does anything.</summary>
    public bool OutOfSight { get; init; }

    /// <summary>The open box; null without one.</summary>
    public OpenBox? Box { get; init; }

    /// <summary>Whether a field takes everything printable.</summary>
    public bool TextField { get; init; }

    /// <summary>Whether a reading cell takes numbers.</summary>
    public bool Cell { get; init; }

    /// <summary>Whether anything has been typed into the cell.</summary>
    public bool CellHasText { get; init; }

    /// <summary>Whether slash and blank are data in the cell (fractions of an inch).</summary>
    public bool Fractions { get; init; }

    /// <summary>Decimals of the caliper with a cable; null where the kit has none in use.</summary>
    public int? CableCaliperDecimals { get; init; }

    /// <summary>The deeds of the sheet.</summary>
    public ImmutableArray<SheetKey> Deeds { get; init; } = [];

    /// <summary>Letters of the places that can be gone to.</summary>
    public string Places { get; init; } = "BWFTCKLM";
}
