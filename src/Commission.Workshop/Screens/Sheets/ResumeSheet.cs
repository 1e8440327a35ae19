using System.Collections.Immutable;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>What is known of a run that was not ended.</summary>
/// <param name="Began">When it began, in words.</param>
/// <param name="Ended">When its last entry was written, in words.</param>
/// <param name="Where">Procedure and step.</param>
/// <param name="OnDisk">What is on disk.</param>
/// <param name="CutOff">What was cut off; null where nothing was.</param>
/// <param name="DrivesOff">Answer to the first question: index into yes, no, not sure.</param>
/// <param name="Untouched">Answer to the second question.</param>
/// <param name="Asking">Which question the arrows answer, 0 or 1.</param>
public sealed record ResumeView(string Began, string Ended, string Where, string OnDisk, string? CutOff, int DrivesOff, int Untouched, int Asking);

/// <summary>The handing-over note between two shifts: two questions, because a fit cannot know.</summary>
public static class ResumeSheet
{
    private static readonly string[] Answers = ["yes", "no", "not sure"];

    /// <summary>The sheet.</summary>
    public static Sheet Of(string machine, string right, ResumeView view, LiveStrip live)
    {
        var kept = view.Untouched == 0 && view.DrivesOff == 1;
        return new Sheet
        {
            Path = $"{machine} / unfinished",
            Right = right,
            Body =
            [
                $" The session of {view.Began} ended without being closed, at {view.Ended}, in",
                $" {view.Where}.",
                Line.Blank,
                .. Margin("on disk, checked", view.OnDisk),
                .. view.CutOff is { } cut ? Margin("cut off", cut) : [],
                Line.Blank,
                " Two questions, because the fit cannot know.",
                Question(1, $"Was the power of the drives off since {view.Ended}?", view.DrivesOff, view.Asking == 0),
                Question(2, "Instrument and blocks untouched since then?", view.Untouched, view.Asking == 1),
                Line.Blank,
                kept ? "   Enter   go on where it was left." : "   Enter   go on where it was left, with an own zero for what follows.",
                kept ? "           Nothing has moved: what was read still holds." : "           Without power a motor may settle: bring the machine to its reference first.",
                "   R       read all again; what was read stays in the log, unused.",
                "   O       put aside. It can be taken up later.",
            ],
            Next = "Left and Right choose, Down the other question, Enter goes on.",
            Because = "Because: good readings are worth keeping, their zero may not be.",
            Live = live,
            Keys =
            [
                new("Enter", "go on", "resume"), new("R", "all again", "resume-anew"), new("O", "put aside", "resume-aside"), new("F2", "card", "card"),
            ],
        };
    }

    private static IEnumerable<Line> Margin(string word, string text) =>
        Wrap.To(text, 55).Select((part, i) => (Line)("   " + (i == 0 ? word : "").PadRight(20) + part));

    private static Line Question(int number, string text, int answer, bool asking)
    {
        var answers = string.Join("  ", Answers.Select((word, i) => i == answer ? $"[ {word} ]" : word));
        return (Line)($"{(asking ? ">>" : "  ")} {number}  {text}".PadRight(54) + answers);
    }
}
