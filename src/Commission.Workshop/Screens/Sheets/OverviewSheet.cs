using System.Collections.Immutable;
using System.Globalization;

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
    private const int Width = 71, MostRoute = 3, Narrow = 5;
    private const string Between = "  ";

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
            : $"Read the {(count < Counts.Length ? Counts[count] : count.ToString(CultureInfo.InvariantCulture))} hazards and do what they ask. Then press S.";
        // Where hazards leave little the blank above them goes too: they are marked at their edge.
        var room = Math.Max(1, SheetFrame.BodyRows(Math.Max(height, SheetFrame.LeastHeight)) - HazardBlock.Lines(view.Hazards).Count());
        var blank = room > Narrow;
        return new Sheet
        {
            Path = view.Path,
            Right = view.Right,
            Body =
            [
                .. Route(view, blank ? room - 1 : room),
                .. blank ? (ReadOnlySpan<Line>)[Line.Blank] : [],
                .. HazardBlock.Lines(view.Hazards),
            ],
            Next = read,
            Because = "S means: done, by me, now; the log keeps it. Enter does nothing here.",
            Live = view.Live,
            Keys = Keys,
        };
    }

    // Hazards are never scrolled away: what does not fit above them as a whole stands in the help.
    private static List<Line> Route(OverviewView view, int room)
    {
        // The way is told shorter before another line of the card is left out.
        for (var most = MostRoute; most > 0; most--)
        {
            var all = view.Lines.Select(line => Margin(line.Word, line.Text, most)).ToList();
            if (all.Sum(lines => lines.Count) <= room)
                return [.. all.SelectMany(lines => lines)];
        }

        var shown = new List<Line>();
        // What it is for comes last where there is little room: what it takes and with what is needed to begin.
        foreach (var (word, text) in view.Lines.OrderBy(line => room <= Narrow && line.Word == "For"))
        {
            var lines = Margin(word, text, room <= Narrow ? 1 : 2);
            if (shown.Count + lines.Count < room)
                shown.AddRange(lines);
        }

        return [.. shown, "         more: F1"];
    }

    private static List<Line> Margin(string word, string text, int most)
    {
        var parts = text.Split('\n').SelectMany(given => given.Length <= Width ? [given] : given.Contains(Between, StringComparison.Ordinal) ? Steps(given, most) : Wrap.To(given, Width));
        return [.. parts.Select((part, i) => (Line)((i == 0 ? " " + word.PadRight(8) : "         ") + part))];
    }

    // The steps of a route, each whole; what has no room is counted.
    private static List<string> Steps(string route, int most)
    {
        var steps = route.Split(Between, StringSplitOptions.RemoveEmptyEntries);
        var rows = new List<string> { steps[0] };
        for (var i = 1; i < steps.Length; i++)
        {
            var after = steps.Length - i - 1;
            var room = Width - (rows.Count == most && after > 0 ? Between.Length + Rest(after).Length : 0);
            if (rows[^1].Length + Between.Length + steps[i].Length <= room)
                rows[^1] += Between + steps[i];
            else if (rows.Count < most)
                rows.Add(steps[i]);
            else
                return [.. rows[..^1], rows[^1] + Between + Rest(after + 1)];
        }

        return rows;
    }

    private static string Rest(int count) => string.Create(CultureInfo.InvariantCulture, $"and {count} more (F1)");
}
