using System.Collections.Immutable;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>What the overview of a procedure says: a route card with its hazards last.</summary>
public sealed record OverviewView
{
    /// <summary>Where one is.</summary>
    public required string Path { get; init; }

    /// <summary>The date.</summary>
    public required string Right { get; init; }

    /// <summary>Margin words with their texts, in order: Route, For, Takes, With, Gives, Needs, Ends.</summary>
    public required ImmutableArray<(string Word, string Text)> Lines { get; init; }

    /// <summary>The hazards, the worst first.</summary>
    public required ImmutableArray<Danger> Hazards { get; init; }

    /// <summary>The live strip.</summary>
    public required LiveStrip Live { get; init; }
}

/// <summary>The overview: S, not Enter, goes on, so that nobody nods hazards through.</summary>
public static class OverviewSheet
{
    private static readonly string[] Counts = ["no", "hazard", "two", "three", "four"];

    /// <summary>The keys.</summary>
    public static ImmutableArray<SheetKey> Keys { get; } =
    [
        new("S", "start", "start"), new("P", "plan", "plan"), new("D", "what good data look like", "details"), new("Esc", "bench", "away"),
        new("F1", "help", "help"), new("F2", "card", "card"),
    ];

    /// <summary>The sheet.</summary>
    public static Sheet Of(OverviewView view, int height = SheetFrame.LeastHeight)
    {
        var count = view.Hazards.Length;
        var read = count == 1 ? "Read the hazard and do what it asks. Then press S."
            : $"Read the {(count < Counts.Length ? Counts[count] : count.ToString(System.Globalization.CultureInfo.InvariantCulture))} hazards and do what they ask. Then press S.";
        return new Sheet
        {
            Path = view.Path,
            Right = view.Right,
            Body =
            [
                .. Route(view, Math.Max(1, SheetFrame.BodyRows(Math.Max(height, SheetFrame.LeastHeight)) - 1 - HazardBlock.Lines(view.Hazards).Count())),
                Line.Blank,
                .. HazardBlock.Lines(view.Hazards),
            ],
            Next = read,
            Because = "S means: done, by me, now; the log keeps it. Enter does nothing here.",
            Live = view.Live,
            Keys = Keys,
        };
    }

    // Hazards are never scrolled away: what does not fit above them stands in the help.
    private static List<Line> Route(OverviewView view, int room)
    {
        var lines = view.Lines.SelectMany(line => Margin(line.Word, line.Text)).ToList();
        return lines.Count <= room ? lines : [.. lines.Take(room - 1), "         more: F1"];
    }

    private static IEnumerable<Line> Margin(string word, string text)
    {
        var first = true;
        foreach (var given in text.Split('\n'))
        {
            foreach (var part in Fits(given) ? [given] : Wrap.To(given, 70))
            {
                yield return (first ? " " + word.PadRight(8) : "         ") + part;
                first = false;
            }
        }
    }

    // A line that fits keeps its own blanks.
    private static bool Fits(string text) => text.Length <= 71;
}
