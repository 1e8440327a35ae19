using System.Collections.Immutable;
using Commission.Workshop.Screens.Keys;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>What is odd about an answer typed into a field: asked about before it is kept, with one key for each answer.</summary>
/// <param name="Reason">What is odd, a clause.</param>
/// <param name="Meant">What it may have meant, as it is typed; null where nothing is near.</param>
public sealed record FieldDoubt(string Reason, string? Meant)
{
    /// <summary>The question in the place of what helps with the answer; what it may have meant is one key, and so is what stands there.</summary>
    /// <param name="doubt">What is odd; null where nothing is, and the view stays as it is.</param>
    /// <param name="typed">What stands in the field.</param>
    /// <param name="view">The question that was answered.</param>
    public static QuestionView On(FieldDoubt? doubt, string typed, QuestionView view) => doubt is null ? view : view with
    {
        About = [doubt.Reason + ". A slip?"],
        Step = ($"Enter answers anew.{(doubt.Meant is { } meant ? $" A takes {With(meant, view.Unit)}." : "")} O keeps {typed}.", "Nothing is kept before you choose. Backspace edits it."),
        Keys = doubt.Keys(view.Unit),
    };

    /// <summary>What the keys meet while it is asked: a number typed takes the place of the one in question.</summary>
    /// <param name="unit">Unit of the field.</param>
    public KeyScene Scene(string unit) => new() { Deeds = Keys(unit), Cell = true, CellHasText = true, Fractions = unit == "in", Places = "" };

    private ImmutableArray<SheetKey> Keys(string unit) =>
    [
        new("Enter", "anew", "type-again"), .. Meant is { } meant ? (ReadOnlySpan<SheetKey>)[new("A", With(meant, unit), "doubt-meant")] : [], new("O", "as typed", "doubt-keep"),
        new("Backspace", "edit", "back"), new("F1", "help", "help"), new("R", "anew", "type-again") { Quiet = true },
    ];

    private static string With(string meant, string unit) => $"{meant} {unit}".TrimEnd();
}
