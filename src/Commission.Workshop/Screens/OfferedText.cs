namespace Commission.Workshop.Screens;

/// <summary>A field with something offered in it: the first character typed takes its place, Backspace edits it.</summary>
/// <param name="Text">What stands in the field.</param>
/// <param name="IsOffered">Whether it is only offered so far: nothing was typed into the field yet.</param>
public readonly record struct OfferedText(string Text, bool IsOffered)
{
    /// <summary>What is said where something is offered.</summary>
    public const string Words = "Type over it; Backspace edits it.";

    /// <summary>Whether it was typed and not taken: the next character begins anew.</summary>
    public bool IsRefused { get; private init; }

    /// <summary>Whether the next character takes the place of what stands there.</summary>
    public bool IsTypedOver => IsOffered || IsRefused;

    /// <summary>A field with an offer; an empty one offers nothing.</summary>
    public static OfferedText Of(string offer) => new(offer, offer.Length > 0);

    /// <summary>After a character.</summary>
    public OfferedText With(char character) => new((IsTypedOver ? "" : Text) + character, IsOffered: false);

    /// <summary>The same text, not taken: as in the cells of readings the next character begins anew, Backspace edits it.</summary>
    public OfferedText Refused() => this with { IsRefused = Text.Length > 0 };

    /// <summary>After a Backspace; in an empty field nothing changes.</summary>
    public OfferedText Shorter() => new(Text.Length > 0 ? Text[..^1] : Text, IsOffered: false);
}
