using System.Collections.Immutable;
using System.Globalization;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>A list of which one line may be chosen: procedures, findings, instruments, pages of the log.</summary>
public sealed record ListView
{
    /// <summary>Where one is.</summary>
    public required string Path { get; init; }

    /// <summary>Count or date.</summary>
    public string Right { get; init; } = "";

    /// <summary>Head of the columns.</summary>
    public string Head { get; init; } = "";

    /// <summary>The lines; where they are many, <see cref="Count"/> and <see cref="Line"/> stand in their place.</summary>
    public ImmutableArray<string> Lines { get; init; } = [];

    /// <summary>How many lines there are, where each is made only when it is shown.</summary>
    public int? Count { get; init; }

    /// <summary>Makes a line that is shown.</summary>
    public Func<int, string>? Line { get; init; }

    /// <summary>Index of the chosen line; null where none can be chosen.</summary>
    public int? Chosen { get; init; }

    /// <summary>Lines below the list.</summary>
    public ImmutableArray<string> Below { get; init; } = [];

    /// <summary>What Enter does, and why.</summary>
    public required (string Next, string Because) Step { get; init; }

    /// <summary>The live strip.</summary>
    public required LiveStrip Live { get; init; }

    /// <summary>The keys.</summary>
    public required ImmutableArray<SheetKey> Keys { get; init; }
}

/// <summary>A list as a sheet; the chosen line always stays in sight.</summary>
public static class ListSheet
{
    /// <summary>Columns before the text of a line: the mark of the chosen one.</summary>
    public const int Margin = 3;

    private const int CountColumn = 68;

    /// <summary>The sheet.</summary>
    public static Sheet Of(ListView view, int height)
    {
        var room = Math.Max(1, SheetFrame.BodyRows(height) - 1 - (view.Below.IsEmpty ? 0 : view.Below.Length + 1));
        var count = view.Count ?? view.Lines.Length;
        var first = view.Chosen is { } at ? Math.Clamp(at - (room / 2), 0, Math.Max(0, count - room)) : 0;
        var shown = Enumerable.Range(first, view.Chosen is null ? count : Math.Min(room, count - first)).Select(i => view.Line?.Invoke(i) ?? view.Lines[i]);
        // Where not all of them fit it is said which one of how many is chosen: behind the heads, or above them where those fill their row.
        var told = view.Chosen is { } one && count > room ? string.Create(CultureInfo.InvariantCulture, $"{one + 1} of {count}") : "";
        var column = Math.Max(CountColumn, view.Head.Length + 2);
        var behind = column + told.Length < SheetFrame.LeastWidth;
        var head = told.Length > 0 && behind ? view.Head.PadRight(column) + told : view.Head;
        var right = told.Length == 0 || behind ? view.Right : view.Right.StartsWith(count.ToString(CultureInfo.InvariantCulture) + " ", StringComparison.Ordinal) ? string.Create(CultureInfo.InvariantCulture, $"{view.Chosen + 1} of {view.Right}") : $"{told} . {view.Right}";
        return new Sheet
        {
            Path = view.Path, Right = right,
            Body =
            [
                new Line(head, [new(0, head.Length, Ink.Quiet)]),
                .. shown.Select((text, i) => first + i == view.Chosen ? new Line(">> " + text, [new(0, text.Length + 3, Ink.Focus)]) : (Line)("   " + text)),
                .. view.Below.IsEmpty ? (ReadOnlySpan<Line>)[] : [Line.Blank, .. view.Below.Select(text => (Line)text)],
            ],
            Next = view.Step.Next, Because = view.Step.Because, Live = view.Live, Keys = view.Keys,
        };
    }
}
