using System.Collections.Immutable;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>What is known after STOP.</summary>
/// <param name="Machine">Name of the machine.</param>
/// <param name="At">Time of day of the stop.</param>
/// <param name="Pressed">Which key it was, or what stopped it.</param>
/// <param name="Record">What was sent and answered, each with its time; at most three.</param>
/// <param name="Kept">What is on disk and what was not taken.</param>
/// <param name="Live">The live strip.</param>
public sealed record StopView(
    string Machine, string At, string Pressed, ImmutableArray<(string What, string At)> Record, string Kept, LiveStrip Live)
{
    /// <summary>What happened besides, told by the link; empty where nothing was.</summary>
    public string Since { get; init; } = "";

    /// <summary>What comes after the answer, before anything else moves.</summary>
    public string After { get; init; } = "home, with its own confirmation";

    /// <summary>Whether the link was lost: nothing was sent then, and nothing was stopped by it.</summary>
    public bool LinkLost { get; init; }

    /// <summary>How long STOP takes at worst, a few words; empty where it is a byte, or nothing is connected.</summary>
    public string WorstCase { get; init; } = "";
}

/// <summary>The accident page: what was done, what is not known.</summary>
public static class StopSheet
{
    // What has no room beside the time stands whole in the body.
    private const int MostPressed = 40;

    // The last row of the big word, below the record.
    private const int WorstRow = 4;

    /// <summary>The keys: what happened, told with one of three.</summary>
    public static ImmutableArray<SheetKey> Keys { get; } =
    [
        new("A", "false alarm", "stop-false"), new("S", "something happened", "stop-crash"), new("O", "do not know", "stop-unknown"),
        new("F1", "help", "help"), new("F9", "stop again", "stop"),
    ];

    /// <summary>The sheet.</summary>
    public static Sheet Of(StopView view) => new()
    {
        Path = $"{view.Machine} / STOP",
        Right = view.Pressed.Length <= MostPressed ? $"{view.At} . {view.Pressed}" : view.At,
        Body =
        [
            .. BlockDigits.Of("STOP").Select((row, i) => ((Line)("    " + row)).With(4, row.Length, Ink.Stop)
                .Set(43, i < view.Record.Length ? view.Record[i].What.PadRight(25) + view.Record[i].At : i == WorstRow ? view.WorstCase : "")),
            Line.Blank,
            " Not known now   where the axes are. Motors can have lost steps: the numbers of",
            "                 the controller are not trusted until it has homed.",
            view.LinkLost ? " Not known ever  what it did when the link was gone. No key reaches it: if" : " Not known ever  whether the stop came in time. This key is software: if",
            "                 anything still moves, hit the wired emergency stop.",
            .. view.Pressed.Length <= MostPressed ? [] : Wrap.To(view.Pressed, 62).Select((part, i) => (Line)((i == 0 ? view.LinkLost ? " Link lost       " : " Stopped by      " : "                 ") + part)),
            .. Wrap.To(view.Kept, 62).Select((part, i) => (Line)((i == 0 ? " Kept            " : "                 ") + part)),
            .. view.Since.Length == 0 ? [] : Wrap.To(view.Since, 62).Select((part, i) => (Line)((i == 0 ? " Also            " : "                 ") + part)),
            Line.Blank,
            " Look first. Then tell what happened, one key:",
            "    A   a false alarm, nothing touched anything",
            "    S   something was hit, jammed or sounded wrong   (all results: suspect)",
            "    O   I do not know                                (treated like S)",
        ],
        Next = "Look at the machine. Nothing is sent to it until A, S or O is pressed.",
        Because = $"After that: {view.After}. Enter does nothing here.",
        Live = view.Live,
        Keys = Keys,
    };
}
