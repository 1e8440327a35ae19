using System.Collections.Immutable;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>A line of the card that can be chosen.</summary>
/// <param name="Key">Its key.</param>
/// <param name="Word">What it is.</param>
/// <param name="About">What is there now, or why it cannot be done.</param>
/// <param name="Action">Id of the deed, or <c>place</c>.</param>
/// <param name="Possible">Whether it can be done now.</param>
public sealed record CardLine(string Key, string Word, string About, string Action, bool Possible = true);

/// <summary>The contents page inside a tool cupboard door: all places, all deeds, and why one is not possible.</summary>
public static class CardSheet
{
    private const int Right = 37;
    private const int Most = 15;

    /// <summary>The sheet.</summary>
    /// <param name="machine">Name of the machine.</param>
    /// <param name="on">What sheet it was called from.</param>
    /// <param name="places">The eight places.</param>
    /// <param name="deeds">The deeds of that sheet, those not possible too.</param>
    /// <param name="chosen">Index of the chosen line: possible places first, then possible deeds; null for none.</param>
    /// <param name="live">The live strip.</param>
    /// <param name="width">Columns of the window.</param>
    public static Sheet Of(
        string machine, string on, ImmutableArray<CardLine> places, ImmutableArray<CardLine> deeds, int? chosen, LiveStrip live, int width = SheetFrame.LeastWidth)
    {
        var possible = deeds.Where(deed => deed.Possible).ToImmutableArray();
        var not = deeds.Where(deed => !deed.Possible).ToImmutableArray();
        var right = new List<string>(Wrap.To($"deeds on this sheet ({on})", width - 1 - Right));
        var head = right.Count;
        right.AddRange(possible.Select(deed => $"{deed.Key,-6} {deed.Word}"));
        if (!not.IsEmpty)
        {
            string[] reasons = ["not now, and why", .. not.SelectMany(deed => Reason(deed, width - 1 - Right))];
            // The blank goes before what stands always does.
            right.AddRange(right.Count + reasons.Length == Most ? reasons : [.. (ReadOnlySpan<string>)[""], .. reasons]);
        }

        var left = new List<string> { "places" };
        left.AddRange(places.Select(place => $"{place.Key}  {place.Word,-11}  {place.About}"));
        var rows = Math.Max(left.Count, right.Count);
        var body = Enumerable.Range(0, rows).Select(i =>
        {
            var line = Line.Blank.Set(1, i < left.Count ? left[i] : "").Set(Right, i < right.Count ? right[i] : "");
            return line with { Text = line.Text.TrimEnd() };
        }).ToList();
        if (chosen is { } at)
        {
            var open = places.Count(place => place.Possible);
            var (row, column) = at < open ? (at + 1, 0) : (at - open + head, Right - 1);
            body[row] = body[row].Set(column, ">").With(column, 30, Ink.Focus);
        }

        return new Sheet
        {
            Path = $"{machine} / card",
            Right = "all places and all deeds from here",
            Body =
            [
                .. body, .. Enumerable.Repeat(Line.Blank, Math.Max(0, Most - body.Count)),
                " always, also while typing           act on the machine, only in a box",
                " F1 help  F2 this card               X Y Z  move or write this axis",
                " F9 or Ctrl+C STOP                   H      home",
            ],
            Next = "Arrow keys choose, Enter does it. Esc puts the card away.",
            Because = "Works with any keyboard: no letter has to be typed.",
            Live = live,
            Keys =
            [
                new("Up, Down", "choose", "choose"), new("Enter", "do it", "card-do"), new("Esc", "away", "away"), new("F1", "help", "help"), new("PgUp, PgDn", "scroll", "scroll") { Quiet = true },
            ],
        };
    }

    // A reason is told whole: what does not fit beside the key stands below it.
    private static IEnumerable<string> Reason(CardLine deed, int room)
    {
        var begin = deed.Key.Length == 0 ? $"{deed.Word,-10}  " : $"{deed.Key,-2} {deed.Word,-7}  ";
        var parts = begin.Length + deed.About.Length <= room ? [deed.About] : Wrap.To(deed.About, room - 4).ToList();
        return parts.Count == 1 && begin.Length + parts[0].Length <= room ? [begin + parts[0]] : parts.Select(part => "    " + part).Prepend(begin.TrimEnd());
    }
}
