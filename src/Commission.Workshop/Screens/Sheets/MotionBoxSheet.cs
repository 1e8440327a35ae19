using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Quantities;
using static Commission.Workshop.Screens.Sheets.Boxing;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>What the box before a move shows: the whole move.</summary>
public sealed record MotionBoxView
{
    /// <summary>Where one is.</summary>
    public required string Path { get; init; }

    /// <summary>Count, for example <c>move 2 of 10</c>.</summary>
    public string Right { get; init; } = "";

    /// <summary>Letter of the axis that moves.</summary>
    public required char Axis { get; init; }

    /// <summary>What moves, as it is announced: <c>THE GANTRY</c> along its axis, <c>THE CARRIAGE</c> on it.</summary>
    public required string Part { get; init; }

    /// <summary>Direction in words: <c>away from you</c>.</summary>
    public required string Direction { get; init; }

    /// <summary>Distance, mm, positive.</summary>
    public required double DistanceMm { get; init; }

    /// <summary>Speed, mm/min.</summary>
    public required double SpeedMmMin { get; init; }

    /// <summary>Where it stands and ends, mm.</summary>
    public required (double From, double To) Path1D { get; init; }

    /// <summary>The allowed travel less the margin, mm.</summary>
    public required (double Low, double High) Allowed { get; init; }

    /// <summary>Units of distance, speed and places.</summary>
    public ShownUnits Units { get; init; } = ShownUnits.Millimetres;

    /// <summary>The hazard of the move.</summary>
    public required Danger Hazard { get; init; }

    /// <summary>A second hazard, where the keyboard is not at the machine; null where it is.</summary>
    public Danger? Elsewhere { get; init; }

    /// <summary>What is to be known of STOP, each a sentence: whether it may let the drives go, and how long it takes at worst.</summary>
    public ImmutableArray<string> Stop { get; init; } = [];

    /// <summary>Why it moves.</summary>
    public required string Because { get; init; }

    /// <summary>Whether Tab has reached the button that moves.</summary>
    public bool Reached { get; init; }

    /// <summary>The live strip.</summary>
    public required LiveStrip Live { get; init; }
}

/// <summary>The last row of a box: what its letter does and the button that does not; or, reached by Tab, the button that does.</summary>
public static class BoxButtons
{
    /// <summary>The row.</summary>
    /// <param name="letter">What the letter does, as a sentence.</param>
    /// <param name="verb">What the button that acts says.</param>
    /// <param name="decline">What the other one says.</param>
    /// <param name="column">Column of the second, from the box's left edge.</param>
    /// <param name="reached">Whether the button that acts has the focus.</param>
    /// <param name="margin">Blanks before the first.</param>
    public static Line Row(string letter, string verb, string decline, int column, bool reached, int margin = 5)
    {
        var focus = $"[ {(reached ? char.ToUpperInvariant(verb[0]) + verb[1..] : decline)} ]";
        var text = new string(' ', margin) + (reached ? focus + " (Space)" : letter);
        return Boxed(text.PadRight(column) + (reached ? $"{decline} (Enter)" : focus + " (Enter)")).With(focus, Ink.Focus);
    }
}

/// <summary>The box before every move: the call before a hoist moves.</summary>
public static class MotionBoxSheet
{
    private const int Track = 38;

    /// <summary>The sheet.</summary>
    public static Sheet Of(MotionBoxView view)
    {
        var seconds = Math.Max(1, Math.Round(view.DistanceMm / view.SpeedMmMin * 60));
        var letter = view.Axis;
        // The whole box stands in the smallest window: what is to be known before the move takes the room of its blanks.
        Line[] Blank(Line blank) => view.Elsewhere is null ? [blank] : [];
        return new Sheet
        {
            Path = view.Path,
            Right = view.Right,
            Body =
            [
                Edge, Boxed($"  {view.Part} WILL MOVE").With($"{view.Part} WILL MOVE", Ink.Strong), .. Blank(Boxed("")),
                Boxed(string.Create(CultureInfo.InvariantCulture, $"     axis {letter}   {view.Direction}   {view.Units.Digits(view.DistanceMm)} {view.Units.Length.Symbol}   {view.Units.Told(string.Create(CultureInfo.InvariantCulture, $"{view.SpeedMmMin:0} mm/min"))}   about {seconds:0} s")),
                .. Blank(Boxed("")), .. Drawing(view), Boxed(""),
                Boxed("  //// HAZARD  " + view.Hazard.What), Boxed("  ////         " + view.Hazard.Measure),
                .. view.Elsewhere is { } far ? (ReadOnlySpan<Line>)[Boxed("  //// HAZARD  " + far.What), Boxed("  ////         " + far.Measure)] : [],
                .. view.Stop.Select(sentence => Boxed("     " + sentence)), Boxed(""),
                BoxButtons.Row($"Press {letter} to move {letter}.", $"move {letter}", "Do not move", 44, view.Reached),
                Edge, .. Blank(Line.Blank),
                " While it moves every key is STOP. The key you just pressed, still held down,",
                " does not count again. A caliper that types while it moves is not listened to.",
            ],
            Next = $"Hands and caliper out, then {letter}. Enter or Esc: it stays where it is.",
            Because = view.Because,
            Live = view.Live,
            Keys =
            [
                new(letter.ToString(), "move", "confirm"), new("Enter, Esc", "do not move", "decline"), new("F1", "help", "help"),
                new("F9 or Ctrl+C", "stop, always", "stop"),
            ],
        };
    }

    // The declared travel less the margin; the arrow goes from where it stands to where it ends.
    private static IEnumerable<Line> Drawing(MotionBoxView view)
    {
        int At(double mm) => (int)Math.Clamp(Math.Round((mm - view.Allowed.Low) / (view.Allowed.High - view.Allowed.Low) * (Track - 1)), 0, Track - 1);
        var inch = view.Units.Length.Factor;
        var (from, to) = (At(view.Path1D.From), At(view.Path1D.To));
        to = to == from ? from + (view.Path1D.To >= view.Path1D.From ? 1 : -1) : to;
        var track = new string('.', Track).ToCharArray();
        for (var i = Math.Min(from, to); i <= Math.Max(from, to) && i < Track; i++)
            track[Math.Max(0, i)] = '-';
        track[Math.Clamp(to, 0, Track - 1)] = to > from ? '>' : '<';
        track[from] = 'o';
        yield return Boxed(string.Create(CultureInfo.InvariantCulture, $"{view.Allowed.Low / inch,7:0.#} |{new string(track)}| {view.Allowed.High / inch:0.#} allowed"));
        var numbers = Line.Blank.Set(9 + Math.Max(0, Math.Min(from, to) - 3), view.Units.Digits(Math.Min(view.Path1D.From, view.Path1D.To)));
        numbers = numbers.Set(Math.Max(numbers.Text.Length + 1, 9 + Math.Max(from, to) - 3), view.Units.Digits(Math.Max(view.Path1D.From, view.Path1D.To)));
        yield return Boxed(numbers.Text);
    }
}
