using System.Collections.Immutable;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>The second person who reads a figure back: a question in the place of the picture, the row stays in sight.</summary>
public static class SlipQuestion
{
    /// <summary>The keys: read again, as suggested, as typed.</summary>
    /// <param name="hasSuggestion">Whether a value is suggested.</param>
    /// <param name="ownZero">Whether a zero of its own is, in the place of a value.</param>
    public static ImmutableArray<SheetKey> Keys(bool hasSuggestion, bool ownZero = false) =>
    [
        new("Enter", "= R read again", "slip-again"),
        ownZero ? new("A", "own zero", "slip-own-zero") : new("A", "as suggested", "slip-suggested", hasSuggestion ? null : "nothing is near what was typed"),
        new("O", "as typed", "slip-keep"), new("E", "leave it out", "exclude") { Quiet = true }, new("N", "note", "note"), new("F1", "help", "help"), new("R", "read again", "slip-again") { Quiet = true },
    ];

    /// <summary>The lines beside the table.</summary>
    /// <param name="reason">What it looks like, a sentence.</param>
    /// <param name="typed">What was typed.</param>
    /// <param name="suggestion">What it may have meant; null where nothing is near.</param>
    /// <param name="why">Why that is meant; null where it cannot be said.</param>
    /// <param name="off">How far off the line the suggestion would lie, as shown; null where there is no line.</param>
    /// <param name="ownZero">Whether the zero may be another one since the run was taken up: then that is suggested.</param>
    public static ImmutableArray<Line> Lines(string reason, string typed, string? suggestion, string? why, string? off = null, bool ownZero = false)
    {
        var lines = new List<Line>();
        lines.AddRange(Wrap.To(reason + (ownZero ? ". Another zero since the break?" : ". A slip?"), 36).Select(text => (Line)text));
        lines.Add(Line.Blank);
        lines.Add(Key("R", "read it again        (Enter)"));
        lines.Add(Line.Blank);
        if (ownZero)
        {
            lines.Add(Key("A", "a zero of its own from here on"));
            lines.Add("      the readings before stay good");
            lines.Add(Line.Blank);
        }
        else if (suggestion is not null)
        {
            lines.AddRange(Wrap.To(suggestion + (why is null ? " may be meant" : ", " + why), 30).Select((text, i) => i == 0 ? Key("A", text) : "      " + text));
            if (off is not null)
                lines.Add($"      would lie {off} off the line");
            lines.Add(Line.Blank);
        }

        lines.Add(Key("O", $"{typed} is what it reads"));
        lines.Add("      kept, marked, in the report");
        return [Line.Blank, .. lines];
    }

    /// <summary>What stands below the table: that nothing is changed by asking, and what was not tried.</summary>
    /// <param name="typed">What was typed.</param>
    /// <param name="place">Where the machine was sent; null where it was sent nowhere, or another reading came since.</param>
    public static ImmutableArray<string> Below(string typed, string? place) =>
    [
        $"Nothing is changed without you. What you typed, {typed}, stays in the log", "beside the answer you choose, with the time.",
        .. place is null ? [] : Wrap.To($"Not tried: whether the machine really went to \"{place}\". R finds that out too.", 78),
    ];

    /// <summary>In what two numbers differ, where it is the one thing that fingers do: two neighbours swapped, or one digit for another; null where it is more.</summary>
    public static string? Slipped(string typed, string meant)
    {
        if (typed.Length != meant.Length)
            return null;
        int[] differ = [.. Enumerable.Range(0, typed.Length).Where(i => typed[i] != meant[i])];
        return differ switch
        {
            [var one, var two] when two == one + 1 && typed[one] == meant[two] && typed[two] == meant[one] && (typed[one] == '.' || typed[two] == '.') => "the point moved",
            [var only] => $"{typed[only]} for {meant[only]}",
            [var one, var two] when typed[one] == meant[two] && typed[two] == meant[one] && typed[(one + 1)..two].All(letter => letter is '.' or ',') => $"{meant[one]} and {meant[two]} swapped",
            _ => null,
        };
    }

    private static Line Key(string key, string text) => ((Line)$"  {key}   {text}").With(2, 1, Ink.Key);
}
