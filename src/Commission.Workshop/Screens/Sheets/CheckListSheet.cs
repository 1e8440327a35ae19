using System.Collections.Immutable;
using System.Globalization;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>A check that was made.</summary>
/// <param name="Id">Its id, for example <c>P05</c>.</param>
/// <param name="Text">What is checked.</param>
/// <param name="Found">What was found, with its unit.</param>
/// <param name="Limit">The limit, short; null where it is whole only in a row of its own.</param>
/// <param name="By">Handle of the person; empty where none was named.</param>
/// <param name="Passed">Whether it is in.</param>
public sealed record CheckRow(string Id, string Text, string Found, string? Limit, string By, bool Passed)
{
    /// <summary>The limit in words, for a row of its own where the column cannot hold it.</summary>
    public string Whole { get; init; } = "";
}

/// <summary>What the page of a check that is out shows.</summary>
public sealed record CheckListView
{
    /// <summary>Where one is.</summary>
    public required string Path { get; init; }

    /// <summary>Date and count.</summary>
    public required string Right { get; init; }

    /// <summary>The checks made so far, the one that is out last.</summary>
    public required ImmutableArray<CheckRow> Rows { get; init; }

    /// <summary>Number of checks that are not opened while this one is out.</summary>
    public required int NotOpened { get; init; }

    /// <summary>Hazards, the worst first.</summary>
    public ImmutableArray<Danger> Hazards { get; init; } = [];

    /// <summary>What to do about it, and what it may be.</summary>
    public ImmutableArray<string> Then { get; init; } = [];

    /// <summary>What to do, and why.</summary>
    public required (string Next, string Because) Step { get; init; }

    /// <summary>The live strip.</summary>
    public required LiveStrip Live { get; init; }

    /// <summary>The keys.</summary>
    public required ImmutableArray<SheetKey> Keys { get; init; }
}

/// <summary>The test record of an electrician: value, limit, initials. What is not open cannot be skipped to.</summary>
public static class CheckListSheet
{
    private const int TextColumn = 6, FoundColumn = 53, LimitColumn = 63, ByColumn = 75;
    private const int TextRoom = FoundColumn - TextColumn - 1;
    private const int LimitRoom = ByColumn - LimitColumn - 1;
    private const int LeastRows = 3;

    /// <summary>The sheet.</summary>
    public static Sheet Of(CheckListView view, int height)
    {
        const string Head = "      check                                          found     limit       by";
        ImmutableArray<Line> below =
        [
            view.NotOpened > 0 ? string.Create(CultureInfo.InvariantCulture, $" ....  {view.NotOpened} further checks are not opened while this one is out.") : " ....  nothing after it is opened while it is out.", Line.Blank,
            .. HazardBlock.Lines(view.Hazards), .. view.Hazards.IsEmpty ? (ReadOnlySpan<Line>)[] : [Line.Blank],
            // A line that fits keeps its own columns.
            .. view.Then.SelectMany(text => Inking.Clean(text) is { Length: <= 78 } whole ? [whole] : Wrap.To(text, 78)).Select(text => (Line)(" " + text)),
        ];
        // The one that is out is whole, beside one before it; of those before it as many as there is room for, the newest.
        var free = SheetFrame.BodyRows(height) - 1 - below.Length;
        var last = view.Rows.TakeLast(1).SelectMany(row => Row(row, Math.Max(LeastRows, free - 1), " ... D")).ToList();
        var before = new List<Line>();
        foreach (var row in view.Rows.SkipLast(1).Reverse().Select(row => Row(row, 1, " ...")))
        {
            if (before.Count > 0 && before.Count + row.Length > free - last.Count)
                break;
            before.InsertRange(0, row);
        }

        return new Sheet
        {
            Path = view.Path, Right = view.Right, Live = view.Live, Next = view.Step.Next, Because = view.Step.Because, Keys = view.Keys, KeyGap = 3,
            Body = [new Line(Head, [new(0, Head.Length, Ink.Quiet)]), .. before, .. last, .. below],
        };
    }

    /// <summary>A limit as short as the table needs: <c>at most 0.1 ohm</c> becomes <c>&lt;= 0.1</c>, <c>within 5 % of 24 V</c> becomes <c>24 +-5 %</c>; null where the column cannot hold the whole of it.</summary>
    /// <param name="limit">The limit in words.</param>
    /// <param name="unit">Unit that stands beside what was found and is not said again; empty where there is none.</param>
    public static string? Short(string limit, string unit) =>
        string.Join(", ", limit.Split(" and ").Select(part => Terse(unit.Length > 0 ? part.Replace(" " + unit, "", StringComparison.Ordinal) : part))) is { Length: <= LimitRoom } whole ? whole : null;

    private static string Terse(string part)
    {
        if (part.StartsWith("at most ", StringComparison.Ordinal))
            return "<= " + part["at most ".Length..];
        if (part.StartsWith("at least ", StringComparison.Ordinal))
            return ">= " + part["at least ".Length..];
        if (part.StartsWith("from ", StringComparison.Ordinal))
            return part["from ".Length..].Replace(" to ", "..", StringComparison.Ordinal);
        return part.StartsWith("within ", StringComparison.Ordinal) && part.Split(" of ", 2) is [var within, var about] ? $"{about} +-{within["within ".Length..]}" : part;
    }

    // What is longer than its room ends with a mark; of the one that is out, with the key that shows it whole.
    private static Line[] Row(CheckRow row, int most, string more)
    {
        var parts = Wrap.To($"{row.Id} {row.Text}", TextRoom).ToList();
        if (parts.Count > most)
            parts = [.. parts.Take(most - 1), Wrap.To(parts[most - 1], TextRoom - more.Length).First() + more];
        var line = Line.Blank.Set(1, row.Passed ? "in" : new Line("OUT", [new(0, 3, Ink.Ochre)])).Set(TextColumn, parts[0])
            .Set(FoundColumn, Wrap.Cut(row.Found, LimitColumn - FoundColumn - 1)).Set(LimitColumn, row.Limit ?? "below").Set(ByColumn, Wrap.Cut(row.By, 5));
        return
        [
            line with { Text = line.Text.TrimEnd() }, .. parts.Skip(1).Select(part => Line.Blank.Set(TextColumn + 4, part)),
            .. row.Limit is null ? Wrap.To("limit: " + row.Whole, SheetFrame.LeastWidth - TextColumn - 5).Select(part => Line.Blank.Set(TextColumn + 4, part)) : [],
        ];
    }
}
