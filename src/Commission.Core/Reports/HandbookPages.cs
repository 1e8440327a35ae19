using System.Collections.Immutable;
using System.Text;
using Commission.Core.Characteristics;

namespace Commission.Core.Reports;

/// <summary>The pages of the handbook, carried in the program: what the screens show on F1 and what stands behind a procedure.</summary>
public static class HandbookPages
{
    private const string Folder = "handbook/";

    // Procedures that have no page of their own name: the page that tells about them.
    private static readonly ImmutableDictionary<string, string> Pages = ImmutableDictionary.CreateRange(
        new (string Procedure, string Page)[]
        {
            ("bed-map", "flatness.md"), ("diagonals", "squareness.md"), ("distance-network", "squareness.md"), ("nominal-steps", "steps-and-ratio.md"),
            ("periodic-error", "periodic.md"), ("ratio-check", "steps-and-ratio.md"), ("readiness", "first-power-up.md"), ("first-moves", "first-power-up.md"), ("recheck", "yearly-check.md"),
            ("speed-under-load", "speed-ladder.md"), ("switch-logic", "homing.md"),
        }.Select(pair => KeyValuePair.Create(pair.Procedure, pair.Page)));

    /// <summary>File names of all pages, in the order of the alphabet.</summary>
    public static ImmutableArray<string> Names { get; } = [.. Carried.Names(Folder)];

    /// <summary>Name of the page of a kind of characteristic or of a procedure; null where there is none.</summary>
    /// <param name="id">Id of the kind or of the procedure.</param>
    public static string? NameOf(string id)
    {
        var name = CharacteristicKinds.Find(id)?.HandbookPage ?? Pages.GetValueOrDefault(id, id + ".md");
        return Names.Contains(name) ? name : null;
    }

    /// <summary>A page as it was written, in Markdown.</summary>
    /// <param name="name">File name out of <see cref="Names"/>.</param>
    public static string Text(string name) => Carried.Text(Folder + name);

    /// <summary>A page in plain lines: headings in capitals, links as their words, tables and examples as they stand. Long lines are not broken.</summary>
    /// <param name="name">File name out of <see cref="Names"/>.</param>
    public static ImmutableArray<string> Lines(string name) => [.. Text(name).TrimEnd().Split('\n').Select(line => line.TrimEnd('\r'))
        .Where(line => !line.StartsWith("```", StringComparison.Ordinal)).Select(Plain)];

    private static string Plain(string line) =>
        line.StartsWith('#') ? Unlinked(line.TrimStart('#').Trim()).ToUpperInvariant() : Unlinked(line).Replace("`", "", StringComparison.Ordinal);

    // [words](target) becomes words.
    private static string Unlinked(string line)
    {
        var text = new StringBuilder();
        for (var at = 0; at < line.Length;)
        {
            var open = line.IndexOf('[', at);
            var middle = open < 0 ? -1 : line.IndexOf("](", open, StringComparison.Ordinal);
            var close = middle < 0 ? -1 : line.IndexOf(')', middle);
            if (close < 0)
                return text.Append(line.AsSpan(at)).ToString();
            text.Append(line.AsSpan(at, open - at)).Append(line.AsSpan(open + 1, middle - open - 1));
            at = close + 1;
        }

        return text.ToString();
    }
}
