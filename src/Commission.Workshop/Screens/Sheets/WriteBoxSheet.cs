using System.Collections.Immutable;
using System.Globalization;
using static Commission.Workshop.Screens.Sheets.Boxing;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>One setting in the box before a write.</summary>
/// <param name="What">The setting in words: <c>steps per mm, Y</c>.</param>
/// <param name="Before">What the controller holds.</param>
/// <param name="After">What it would hold.</param>
/// <param name="Unit">Unit of both; empty where they have none.</param>
public sealed record WriteLine(string What, string Before, string After, string Unit = "");

/// <summary>What the box before a write shows.</summary>
public sealed record WriteBoxView
{
    /// <summary>Where one is.</summary>
    public required string Path { get; init; }

    /// <summary>What the link is, or which of several boxes this is.</summary>
    public string Right { get; init; } = "controller: linked";

    /// <summary>The letters that write, in their order; the axes that are touched.</summary>
    public required ImmutableArray<char> Letters { get; init; }

    /// <summary>How many of the letters were given.</summary>
    public int Given { get; init; }

    /// <summary>The settings.</summary>
    public required ImmutableArray<WriteLine> Lines { get; init; }

    /// <summary>What the settings decide, where that is more than a number: <c>homing</c>; null for plain ones.</summary>
    public string? Decides { get; init; }

    /// <summary>Number of settings that stay untouched.</summary>
    public required int Others { get; init; }

    /// <summary>When all settings were saved as they are, such as <c>10:14 today</c>; null where they were not.</summary>
    public required string? SavedAt { get; init; }

    /// <summary>The saved set that holds all the old values, as the list of older sets names it; null where none does.</summary>
    public required string? WayBack { get; init; }

    /// <summary>Whether positions in mm get a new meaning by it.</summary>
    public bool NewMeaning { get; init; } = true;

    /// <summary>Whether Tab has reached the button that writes.</summary>
    public bool Reached { get; init; }

    /// <summary>How it came out, in place of the letter; empty while the box stands.</summary>
    public ImmutableArray<string> Result { get; init; } = [];

    /// <summary>What the result is called in the margin.</summary>
    public string ResultWord { get; init; } = WriteBoxSheet.ReadBack;

    /// <summary>What to do next and why, where it came out; null while the box stands.</summary>
    public (string Next, string Because)? Step { get; init; }

    /// <summary>The live strip.</summary>
    public required LiveStrip Live { get; init; }
}

/// <summary>A setting slip with old and new value: one of the two boxes. Afterwards it shows what was read back.</summary>
public static class WriteBoxSheet
{
    /// <summary>Most settings that one box shows.</summary>
    public const int Most = 6;

    /// <summary>What a result is called that was read back and agrees.</summary>
    public const string ReadBack = "read back";

    private static readonly string[] Counts = ["NO", "ONE", "TWO", "THREE", "FOUR", "FIVE", "SIX"];

    /// <summary>The sheet.</summary>
    public static Sheet Of(WriteBoxView view) => new()
    {
        Path = view.Path,
        Right = view.Right,
        Body =
        [
            Edge, Boxed("  " + Title(view)).With(Title(view), Ink.Strong), Boxed(""),
            Boxed("                         in the controller      after writing"),
            .. view.Lines.Select(line => Boxed($"    {line.What,-20}{line.Before,17}  ->{line.After,16} {(Names(line) ? "" : line.Unit)}".TrimEnd()).With(line.After, Ink.Strong)), Boxed(""),
            .. Rest(view), Edge, Line.Blank, .. Foot(view),
        ],
        Next = view.Step?.Next ?? $"Compare the two numbers, then {view.Letters[view.Given]}. Enter or Esc: nothing is written.",
        Because = view.Step?.Because ?? "Only an axis letter acts on the machine. A caliper cannot type one.",
        Live = view.Live,
        Keys = view.Step is null
            ? [new(view.Letters[view.Given].ToString(), "write", "confirm"), new("Enter, Esc", "do not write", "decline"), new("D", "exact text for the wire", "wire"), new("F1", "help", "help")]
            : [new("Enter", "go on", "next"), new("D", "exact text for the wire", "wire"), new("F1", "help", "help")],
    };

    // "steps per mm" is its own unit.
    private static bool Names(WriteLine line) => line.What.StartsWith(line.Unit.Replace("/", " per ", StringComparison.Ordinal), StringComparison.Ordinal);

    private static string Title(WriteBoxView view) =>
        $"WRITE {Counts[Math.Min(view.Lines.Length, Most)]} SETTING{(view.Lines.Length == 1 ? "" : "S")}{(view.Decides is { } decides ? $"  this decides {decides}" : "")}";

    private static IEnumerable<Line> Rest(WriteBoxView view)
    {
        yield return Boxed(string.Create(CultureInfo.InvariantCulture, $"    everything else                          untouched, {view.Others} settings"));
        yield return Boxed("");
        yield return Boxed(view.SavedAt is null ? "    saved before     not yet: that comes before anything is written"
            : string.Create(CultureInfo.InvariantCulture, $"    saved before     all {view.Others + view.Lines.Length} settings, {view.SavedAt}, copy in the log"));
        yield return Boxed(view.WayBack is null ? "    way back         the old value, written the same way" : $"    way back         controller, settings of {view.WayBack}, write back");
        if (view.Result.IsEmpty)
        {
            yield return Boxed(view.NewMeaning ? "    after it         read back and compared; then home again, because" : "    after it         read back and compared; then home again");
            if (view.NewMeaning)
                yield return Boxed("                     every position in mm has a new meaning");
            yield return Boxed("");
            yield return BoxButtons.Row(Ask(view), $"write {view.Letters[view.Given]}", "Do not write", 46, view.Reached, margin: 4);
            yield break;
        }

        yield return Boxed("");
        foreach (var text in view.Result.SelectMany((text, i) => Wrap.To(text, Inner - 22).Select((part, j) => (i == 0 && j == 0 ? $"    {view.ResultWord,-17}" : "                     ") + part)))
            yield return Boxed(text).With(21, text.Length - 17, Ink.Strong);
    }

    // What concerns no single axis takes the letter of each: the finger names all that may move otherwise than before.
    private static string Ask(WriteBoxView view) => view.Letters.Length == 1
        ? $"Press {view.Letters[0]} to write it to the axis {view.Letters[0]}."
        : $"Press {string.Join(", then ", view.Letters.Skip(view.Given))}: all axes.";

    private static IEnumerable<Line> Foot(WriteBoxView view) => view.Result.IsEmpty
        ?
        [
            " The gantry does not move. Controllers differ: some keep the value only until",
            " the power goes. Read-back after the next power-up is on the list for that.",
        ]
        : view.ResultWord != ReadBack ? [] : [" Not tested: whether the controller keeps it when its power goes. The next", " connection reads all settings again and says what differs."];
}
