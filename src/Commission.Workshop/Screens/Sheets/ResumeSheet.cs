using System.Collections.Immutable;
using System.Globalization;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>What is known of a run that was not ended.</summary>
public sealed record ResumeView
{
    /// <summary>Name of the machine.</summary>
    public required string Machine { get; init; }

    /// <summary>Date and time now.</summary>
    public required string Right { get; init; }

    /// <summary>When it began and when its last entry was written, in words.</summary>
    public required (string Began, string Ended) Session { get; init; }

    /// <summary>What was being found, for example <c>scale Y</c>.</summary>
    public required string What { get; init; }

    /// <summary>Number of the step, from 1.</summary>
    public required int Step { get; init; }

    /// <summary>Number of the reading that is next and of all; null where it stood at no reading.</summary>
    public (int Next, int Of)? Reading { get; init; }

    /// <summary>What is on disk.</summary>
    public required string OnDisk { get; init; }

    /// <summary>What was cut off; null where nothing was.</summary>
    public string? CutOff { get; init; }

    /// <summary>What was being written to the controller.</summary>
    public string InController { get; init; } = "nothing was being written";

    /// <summary>The move that was confirmed and whose end is not in the log, in words; null where there is none.</summary>
    public string? Begun { get; init; }

    /// <summary>Whether it is asked at all: a reading is on disk, and hangs on what became of its set-up.</summary>
    public bool Asks { get; init; } = true;

    /// <summary>Whether the first of the two questions matters, that for the power of the drives.</summary>
    public bool AsksPower { get; init; } = true;

    /// <summary>The second question.</summary>
    public string SetUpAsked { get; init; } = "Caliper and blocks untouched since then?";

    /// <summary>Whether the run reads anything at all: a list of checks needs no homing to go on.</summary>
    public bool Reads { get; init; } = true;

    /// <summary>Answer to the first question: index into yes, no, not sure.</summary>
    public required int DrivesOff { get; init; }

    /// <summary>Answer to the second question.</summary>
    public required int Untouched { get; init; }

    /// <summary>Which question the arrows answer, 0 or 1.</summary>
    public required int Asking { get; init; }

    /// <summary>Whether it was put aside on purpose; where not, its session ended without closing it.</summary>
    public bool PutAside { get; init; }

    /// <summary>Number of readings that count.</summary>
    public required int Counted { get; init; }

    /// <summary>Number of readings that count in the steps before this one.</summary>
    public int Earlier { get; init; }

    /// <summary>Whether readings may go on with a zero of their own; where not, a disturbed set-up means reading all again.</summary>
    public bool OwnZero { get; init; } = true;

    /// <summary>Predicted U with its unit, in words; empty where it is not known.</summary>
    public string Gives { get; init; } = "";

    /// <summary>Whether the second question was come to: before that Enter leads to it.</summary>
    public bool BothAsked { get; init; } = true;

    /// <summary>The live strip.</summary>
    public required LiveStrip Live { get; init; }

    /// <summary>Whether the zero of the readings still holds: untouched, and the drives were never without power.</summary>
    public bool ZeroHolds => !Asks || (Untouched == 0 && DrivesOff == 1);
}

/// <summary>The handing-over note between two shifts: two questions, because a fit cannot know.</summary>
public static class ResumeSheet
{
    private static readonly string[] Answers = LeftRun.Answers;
    private static readonly string[] Words = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];

    /// <summary>The sheet.</summary>
    public static Sheet Of(ResumeView view)
    {
        var at = view.Reading is { } reading ? string.Create(CultureInfo.InvariantCulture, $", reading {reading.Next} of {reading.Of}") : "";
        return new Sheet
        {
            Path = $"{view.Machine} / {(view.PutAside ? "put aside" : "unfinished")}",
            Right = view.Right,
            Body =
            [
                view.PutAside ? $" The run of {view.Session.Began} was put aside at {view.Session.Ended}, in" : $" The run of {view.Session.Began} ended without being closed, at {view.Session.Ended}, in",
                string.Create(CultureInfo.InvariantCulture, $" {view.What}, step {view.Step}{at}."),
                Line.Blank,
                .. Margin("on disk, checked", view.OnDisk),
                .. view.CutOff is { } cut ? Margin("cut off", cut) : [],
                .. Margin("in the controller", view.Begun is { } move ? $"a move was begun: {move}. Its end is not in the log: where it stands is not known. Look." : view.InController),
                Line.Blank,
                .. view.Asks ? Questions(view) : [view.Counted + view.Earlier == 0 ? " No reading is on disk: nothing has to be asked." : " Each reading is taken by itself: nothing has to be asked.", Line.Blank],
                .. Ways(view),
            ],
            Next = Next(view),
            Because = Because(view),
            KeyGap = 3,
            Live = view.Live,
            Keys =
            [
                new("Enter", "go on", "resume"), new("R", "all again", "resume-anew"), new("O", view.PutAside ? "leave it aside" : "put aside", "resume-aside"), new("V", "readings", "raw"),
                new("D", "the cut line", "cut-line", view.CutOff is null ? "nothing was cut off" : null), new("F2", "card", "card"),
            ],
        };
    }

    private static ImmutableArray<Line> Questions(ResumeView view) => !view.AsksPower ?
    [
        " One question, because the fit cannot know.",
        Question(1, view.SetUpAsked, view.Untouched, asking: true),
        Line.Blank,
        $" With \"{Answers[view.Untouched]}\"",
    ] :
    [
        " Two questions, because the fit cannot know.",
        Question(1, $"Was the power of the drives off since {view.Session.Ended}?", view.DrivesOff, view.Asking == 0),
        Question(2, view.SetUpAsked, view.Untouched, view.Asking == 1),
        Line.Blank,
        $" With \"{Answers[view.DrivesOff]}\" and \"{Answers[view.Untouched]}\"",
    ];

    /// <summary>A count in words up to ten.</summary>
    public static string Count(int count) => count < Words.Length ? Words[count] : count.ToString(CultureInfo.InvariantCulture);

    private static IEnumerable<Line> Ways(ResumeView view)
    {
        var go = view.Reading is { } reading ? string.Create(CultureInfo.InvariantCulture, $"go on with reading {reading.Next}") : "go on with this step";
        if (view.Reading is not null && view.Counted > 0 && !view.ZeroHolds)
            go = view.OwnZero ? go + ", own zero for what follows." : "not possible: these readings belong to one set-up.";
        else
            go += ".";
        yield return Way("Enter", go, view.Gives);
        if (view.Begun is not null)
            yield return "           Home first: where the move ended is not known.";
        else if (view is { Reads: true, AsksPower: true })
            yield return view.DrivesOff == 1 ? "           Nothing was without power: positions hold." : "           Home first: without power a motor may settle up to 0.05 mm off.";
        yield return Way("R", (view.Counted, view.Earlier) is (0, > 0) ? $"begin again; the {Count(view.Earlier)} readings on disk stay, unused." : view.Counted == 0 ? "begin again." : $"read all again from 1; the {Count(view.Counted)} stay, unused.", view.Gives);
        yield return Way("O", view.PutAside ? "leave it aside; it waits on its route card." : "put aside; it can be taken up from its route card.", "");
    }

    private static Line Way(string key, string text, string gives) => ((Line)$"   {key,-8}{text}".PadRight(gives.Length > 0 ? 64 : 0)).Set(gives.Length > 0 ? 64 : 11 + text.Length, gives);

    private static string Next(ResumeView view) => !view.Asks ? $"Enter goes on{(view.Reading is { } first ? string.Create(CultureInfo.InvariantCulture, $": {(view.AsksPower ? "home, then " : "")}reading {first.Next}") : " with the step")}." : !view.BothAsked ? "Left and Right choose, Enter goes on to the second question." : view.Reading is { } reading
        ? string.Create(CultureInfo.InvariantCulture, $"Left and Right choose, Enter answers: {(view.DrivesOff == 1 && view.Begun is null ? "" : "home, then ")}on with reading {reading.Next}.")
        : "Left and Right choose, Enter answers: on with the step.";

    private static string Because(ResumeView view) => (view.Counted, view.ZeroHolds) switch
    {
        _ when view.Begun is not null => "Because: where the move ended is not known. Look at the machine first.",
        _ when !view.Asks && view.Counted + view.Earlier == 0 => "Because: what was answered is on disk, and nothing was read yet.",
        _ when !view.Asks => "Because: what was read is on disk and counts as it stands.",
        (0, _) when view.Earlier > 0 => $"Because: the readings of the steps before are on disk; here is none yet.",
        (0, _) => "Because: nothing was read yet; only the log depends on the answers.",
        (_, true) => $"Because: {Count(view.Counted)} good reading{(view.Counted == 1 ? " is" : "s are")} worth keeping, and their zero holds.",
        _ => $"Because: {Count(view.Counted)} good reading{(view.Counted == 1 ? " is" : "s are")} worth keeping, {(view.Counted == 1 ? "its" : "their")} zero is not.",
    };

    private static IEnumerable<Line> Margin(string word, string text) =>
        text.Split('\n').SelectMany(part => Wrap.To(part, 55)).Select((part, i) => (Line)("   " + (i == 0 ? word : "").PadRight(20) + part));

    // The answer of the other question stands as a word; that of this one between its neighbours.
    private static Line Question(int number, string text, int answer, bool asking)
    {
        var answers = asking ? string.Join("   ", Answers.Select((word, i) => i == answer ? $"[ {word} ]" : word)) : Answers[answer];
        var line = (Line)(string.Create(CultureInfo.InvariantCulture, $"{(asking ? ">>" : "  ")} {number}  {text}").PadRight(56) + answers);
        return asking ? line.With($"[ {Answers[answer]} ]", Ink.Focus) : line;
    }
}
