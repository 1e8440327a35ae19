using System.Collections.Immutable;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>What is asked about a reading.</summary>
/// <param name="Reason">What it looks like, a clause.</param>
/// <param name="Typed">What was typed.</param>
/// <param name="Suggestion">What it may have meant; null where nothing is near.</param>
/// <param name="Why">Why that is meant; null where it cannot be said.</param>
public sealed record SlipWords(string Reason, string Typed, string? Suggestion, string? Why)
{
    /// <summary>How far off the line the suggestion would lie, as shown; null where there is no line.</summary>
    public string? Off { get; init; }

    /// <summary>Whether the zero may be another one since the run was taken up: then that is suggested.</summary>
    public bool OwnZero { get; init; }

    /// <summary>The earlier reading that may be the one that is off, to be read again; null where it is known which is.</summary>
    public string? Earlier { get; init; }

    /// <summary>The question.</summary>
    public string Asked => Reason + (OwnZero ? ". Another zero since the break?" : ". A slip?");

    /// <summary>What it may have meant, in words; null where nothing is near.</summary>
    public string? Meant => Suggestion is null ? null : Suggestion + (Why is null ? " may be meant" : ", " + Why);
}

/// <summary>The second person who reads a figure back: a question in the place of the picture, the row stays in sight.</summary>
public static class SlipQuestion
{
    /// <summary>The keys: read again, as suggested, as typed.</summary>
    /// <param name="said">What is asked: a value is suggested, or in its place a zero of its own or the earlier reading.</param>
    public static ImmutableArray<SheetKey> Keys(SlipWords said) =>
    [
        new("Enter", "= R read again", "slip-again"),
        said.OwnZero ? new("A", "own zero", "slip-own-zero") : said.Earlier is not null ? new("A", "the other again", "slip-earlier")
            : new("A", "as suggested", "slip-suggested", said.Suggestion is not null ? null : "nothing is near what was typed"),
        new("O", "as typed", "slip-keep"), new("E", "leave it out", "exclude") { Quiet = true }, new("N", "note", "note"), new("F1", "help", "help"), new("R", "read again", "slip-again") { Quiet = true }, new("U", "undo", "undo-reading") { Quiet = true },
    ];

    /// <summary>The lines beside the table.</summary>
    public static ImmutableArray<Line> Lines(SlipWords said)
    {
        var lines = new List<Line>();
        lines.AddRange(Wrap.To(said.Asked, 36).Select(text => (Line)text));
        lines.Add(Line.Blank);
        lines.Add(Key("R", "read it again        (Enter)"));
        lines.Add(Line.Blank);
        if (said.OwnZero)
        {
            lines.Add(Key("A", "a zero of its own from here on"));
            lines.Add("      the readings before stay good");
            lines.Add(Line.Blank);
        }
        else if (said.Earlier is { } earlier)
        {
            lines.AddRange(Wrap.To(earlier, 30).Select((text, i) => i == 0 ? Key("A", text) : "      " + text));
            lines.Add("      it counts no more, this one does");
            lines.Add(Line.Blank);
        }
        else if (said.Meant is { } meant)
        {
            lines.AddRange(Wrap.To(meant, 30).Select((text, i) => i == 0 ? Key("A", text) : "      " + text));
            if (said.Off is { } off)
                lines.Add($"      would lie {off} off the line");
            lines.Add(Line.Blank);
        }

        lines.Add(Key("O", $"{said.Typed} is what it reads"));
        lines.Add("      kept, marked, in the report");
        return [Line.Blank, .. lines];
    }

    /// <summary>The same below the table, in its whole width and in as few lines as it takes: the other rows stay in sight.</summary>
    public static ImmutableArray<Line> Below(SlipWords said) =>
    [
        .. Wrap.To(said.Asked, 78).Select(text => (Line)(" " + text)), Key("R", "read it again (Enter)"),
        .. said.OwnZero ? [Key("A", "a zero of its own from here on; the readings before stay good")] : said.Earlier is { } earlier ? [Key("A", earlier + "; it counts no more, this one does")] : said.Meant is { } meant ? (ReadOnlySpan<Line>)[Key("A", meant + (said.Off is { } off ? $"; would lie {off} off the line" : ""))] : [],
        Key("O", $"{said.Typed} is what it reads; kept, marked, in the report"),
    ];

    /// <summary>What stands below the table: that nothing is changed by asking, and what was not tried.</summary>
    /// <param name="typed">What was typed.</param>
    /// <param name="place">Where the machine was sent; null where it was sent nowhere, or another reading came since.</param>
    public static ImmutableArray<string> Foot(string typed, string? place) =>
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

    /// <summary>The slip that a reason ends with; null where it names none.</summary>
    /// <param name="reason">The reason.</param>
    public static string? Perhaps(string reason) => reason.LastIndexOf(Maybe, StringComparison.Ordinal) is var at and >= 0 ? reason[(at + Maybe.Length)..] : null;

    private const string Maybe = "; perhaps ";

    private static Line Key(string key, string text) => ((Line)$"  {key}   {text}").With(2, 1, Ink.Key);
}
