using System.Collections.Immutable;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>The second person who reads a figure back: a question in the place of the picture, the row stays in sight.</summary>
public static class SlipQuestion
{
    /// <summary>The keys: read again, as suggested, as typed.</summary>
    public static ImmutableArray<SheetKey> Keys(bool hasSuggestion) =>
    [
        new("Enter", "= R read again", "slip-again"),
        new("A", "as suggested", "slip-suggested", hasSuggestion ? null : "nothing is near what was typed"),
        new("O", "as typed", "slip-keep"), new("E", "leave it out", "exclude") { Quiet = true }, new("N", "note", "note"), new("F1", "help", "help"), new("R", "read again", "slip-again") { Quiet = true },
    ];

    /// <summary>The lines beside the table.</summary>
    /// <param name="reason">What it looks like, a sentence.</param>
    /// <param name="typed">What was typed.</param>
    /// <param name="suggestion">What it may have meant; null where nothing is near.</param>
    /// <param name="why">Why that is meant; null where there is no suggestion.</param>
    public static ImmutableArray<Line> Lines(string reason, string typed, string? suggestion, string? why)
    {
        var lines = new List<Line>();
        lines.AddRange(Wrap.To(reason + ". A slip?", 36).Select(text => (Line)text));
        lines.Add(Line.Blank);
        lines.Add(Key("R", "read it again        (Enter)"));
        lines.Add(Line.Blank);
        if (suggestion is not null)
        {
            lines.AddRange(Wrap.To(suggestion + (why is null ? " may be meant" : ", " + why), 30).Select((text, i) => i == 0 ? Key("A", text) : "      " + text));
            lines.Add(Line.Blank);
        }

        lines.Add(Key("O", $"{typed} is what it reads"));
        lines.Add("      kept, marked, in the report");
        return [Line.Blank, .. lines];
    }

    private static Line Key(string key, string text) => ((Line)$"  {key}   {text}").With(2, 1, Ink.Key);
}
