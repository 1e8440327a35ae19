using System.Collections.Immutable;

namespace Commission.Workshop.Screens;

/// <summary>A hazard of a step: what can happen, and what to do about it.</summary>
/// <param name="What">What can happen, a sentence.</param>
/// <param name="Measure">What to do about it.</param>
public sealed record Danger(string What, string Measure);

/// <summary>Hazards as the slanted tape of the shop, the worst first.</summary>
public static class HazardBlock
{
    private const string First = "//// HAZARD  ", Next = "////         ", Narrow = "//// ";

    private const int Room = 66, LeastRoom = 60;

    /// <summary>The lines of the block; long sentences go on in the next line under the same tape.</summary>
    public static IEnumerable<Line> Lines(IEnumerable<Danger> dangers) => Lines(dangers, Room + First.Length);

    /// <summary>The same in a number of columns; where they are few the word leaves no margin to the lines below it.</summary>
    public static IEnumerable<Line> Lines(IEnumerable<Danger> dangers, int columns)
    {
        var next = columns < LeastRoom ? Narrow : Next;
        return dangers.SelectMany(danger => (columns < LeastRoom ? Wrap.To("HAZARD  " + danger.What, columns - next.Length).Select(part => Narrow + part) : Wrap.To(danger.What, columns - First.Length).Select((part, i) => (i == 0 ? First : Next) + part))
            .Concat(Wrap.To(danger.Measure, columns - next.Length).Select(part => next + part)))
            .Select(text => (Line)text);
    }
}

/// <summary>Breaks sentences at blanks.</summary>
public static class Wrap
{
    /// <summary>The text in lines of at most <paramref name="width"/> cells, of one where there are none; a longer word is cut.</summary>
    public static IEnumerable<string> To(string text, int width)
    {
        width = Math.Max(1, width);
        var line = "";
        foreach (var word in Inking.Clean(text.ReplaceLineEndings(" ")).Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            var rest = word;
            if (line.Length > 0 && line.Length + 1 + rest.Length <= width)
            {
                line += " " + rest;
                continue;
            }

            if (line.Length > 0)
            {
                yield return line;
            }

            for (; rest.Length > width; rest = rest[width..])
            {
                yield return rest[..width];
            }

            line = rest;
        }

        if (line.Length > 0)
        {
            yield return line;
        }
    }

    /// <summary>As much of a text as there is room for.</summary>
    public static string Cut(string text, int room) => text.Length <= room ? text : text[..room];

    /// <summary>Lines with a margin word before the first.</summary>
    public static IEnumerable<Line> Margin(string word, string text, int width = 80)
    {
        var first = true;
        foreach (var part in To(text, width - 12))
        {
            yield return (first ? " " + word.PadRight(10) : new string(' ', 11)) + part;
            first = false;
        }
    }
}
