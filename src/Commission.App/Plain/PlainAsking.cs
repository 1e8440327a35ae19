using System.Collections.Immutable;
using System.Globalization;
using Commission.App.CommandLine;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Workshop.Sessions;

namespace Commission.App.Plain;

/// <content>Asking and saying: one line each.</content>
internal sealed partial class PlainFront
{
    private const string AsideByOperator = "put aside by the operator", MotionKind = "motion";

    private readonly AnswersWithoutEnd endless = new();

    // What stood before the question: help says it again.
    private readonly List<string> before = [];

    // The words that hold everywhere are taken here. Null where one of them was answered, and where the input ended: what the run needs then is asked next.
    private string? Prompt(
        ProcedureSession session, string kind, string name, string text, Func<Outcome<ProcedureRun>>? back = null, Need.Choose? own = null, string aside = AsideByOperator)
    {
        while (Asked($"ask {kind} {name}: {text}") is { } answer)
        {
            if (own?.Options.Any(option => Is(answer, option.Word)) == true)
                return Given(answer);
            if (PlainWords.IsAside(answer))
            {
                PutAside(session, aside);
                return null;
            }

            if (PlainWords.IsHelp(answer))
            {
                Help(session, kind);
            }
            else if (own is null ? PlainWords.IsBack(answer) : IsBack(answer, own))
            {
                if (!Bad((back ?? (() => Back(session)))()))
                    return Given(null);
            }
            else
            {
                return Given(answer);
            }

            // What confirms a move is typed after a prompt of its own.
            if (kind == MotionKind)
                return null;
        }

        return null;
    }

    private string? Given(string? answer)
    {
        before.Clear();
        return answer;
    }

    private bool Bad(Outcome<ProcedureRun> done)
    {
        if (done is not Outcome<ProcedureRun>.Bad bad) return false;
        Tell(bad.Problems);
        return true;
    }

    private void PutAside(ProcedureSession session, string why)
    {
        // Before the run is left: what was counted is still its own.
        counter?.Dispose();
        Bad(session.Leave("put-aside", why));
    }

    private void Help(ProcedureSession session, string kind)
    {
        foreach (var line in before) Say(line);
        Say(kind switch
        {
            "confirm" => "yes, y or S says that it is done and so; no, n or O says that it is not.",
            "choose" => "Answer with one of the words that the question names; one letter is enough where only one word begins with it.",
            "number" => "Answer with a number, with comma or point; its unit may stand behind it.",
            MotionKind => "Nothing moves before the words at the end of the question are typed as they stand there. While it moves every line that is typed is STOP, and so is Ctrl+C.",
            _ => "Answer with a line of your own, or with a word that the question names.",
        });
        if (session.Needs is Need.TakeReading && toldHow is { } how)
        {
            Say(how);
            foreach (var good in session.Run.Procedure.GoodData) Say(OneLine(good));
        }

        Say("Q puts the run aside: started again it goes on from here.");
        Say(takingUp ? "U goes back to the question before." : session.LastDone.Match(entry => $"U takes back: {What(session, entry.Body)}", problems => $"Nothing can be taken back: {problems[0].What}."));
        Say($"All steps: procedure show {session.Run.Procedure.Id}. The page of the handbook: procedure show {session.Run.Procedure.Id} --handbook.");
    }

    private Outcome<ProcedureRun> Unclear(ProcedureSession session, string answer)
    {
        Tell([new Problem($"'{PlainText.Of(answer)}' is no answer here", "Answer with one of the words in the question")]);
        unclear = true;
        return session.Run;
    }

    private double? Understood(ProcedureSession session, string text, string unit, string? typedIn = null)
    {
        var known = unit is "mm" or "rad" or "deg" || (typedIn is not null && typedIn != unit);
        var typed = typedIn is not null && typedIn != unit ? typedIn : unit == "mm" ? LengthUnit : known ? unit : "1";
        switch (TypedNumber.Read(text, typed))
        {
            case NumberReading.Clear clear:
                return known ? clear.Number.In(unit) : clear.Number.Value;
            case NumberReading.Ambiguous two:
                return Comma(session, text, two) is { } chosen ? known ? chosen.In(unit) : chosen.Value : null;
            case NumberReading.NotANumber not:
                // A number of nothing in particular, or in a unit that is only a word here, is asked for in no unit.
                Tell([typed == "1" ? not.Problem with { Remedy = "Type a number, for example 20.01" } : not.Problem]);
                unclear = true;
                return null;
            default:
                throw new System.Diagnostics.UnreachableException();
        }
    }

    // A value that nobody chose is none: asked until one of the two is.
    private TypedNumber? Comma(ProcedureSession session, string text, NumberReading.Ambiguous two)
    {
        var question = string.Create(CultureInfo.InvariantCulture, $"{Words.Clean(text)} can be {two.AsDecimal.Value} or {two.AsThousands.Value}. D for the first, T for the second, R types it anew; empty for D.");
        while (Prompt(session, "choose", "comma", question, back: () => session.Run) is { } answer)
        {
            if (answer.Length == 0 || Is(answer, "d") || IsYes(answer)) return two.AsDecimal;
            if (Is(answer, "t")) return two.AsThousands;
            if (Is(answer, "r")) break;
            Tell([new Problem($"'{PlainText.Of(answer)}' is none of the two", "Answer D or T: which of them was meant")]);
        }

        return null;
    }

    // What was understood, with a point, the instrument's last digit and its unit.
    private string Value(ProcedureSession session, TakenReading reading) => ReadingText.Of(
        reading.Typed, reading.Value, session.UnitOf(reading), ShownUnits.Named(LengthUnit), session.Run.Setting.Instrument?.ResolutionMm);

    private static string Spoken(string unit) => unit == "in" ? "inches" : unit;

    private void SayOnce(string text)
    {
        before.Clear();
        before.AddRange(Lines(text));
        if (again) return;
        foreach (var line in before) Say(line);
    }

    private string? Asked(string question)
    {
        if (endless.Asking(question, "The run is kept as it stands: start the procedure again to go on there, and answer what is asked") is { } enough)
        {
            Tell([enough]);
            ended = ExitCode.BadRequest;
            return null;
        }

        output.WriteLine(question);
        output.Flush();
        if (input.ReadLine() is { } line) return line.Trim();
        if (stopping.IsCancellationRequested) return null;
        Tell([new Problem("the input ended before the run did", "Start the procedure again: it goes on where it stood")]);
        ended = ExitCode.BadRequest;
        return null;
    }

    private void Tell(ImmutableArray<Problem> problems)
    {
        foreach (var problem in problems) error.WriteLine(problem.ToString());
        error.Flush();
    }

    private void Say(string line)
    {
        output.WriteLine(line);
        output.Flush();
    }

    private static bool IsYes(string answer) => PlainWords.IsYes(answer);

    private static bool Is(string answer, string word) => PlainWords.Is(answer, word);

    private static string? SkipReason(string answer) =>
        answer.StartsWith("skip ", StringComparison.OrdinalIgnoreCase) && answer[5..].Trim() is { Length: > 2 } reason ? Words.Clean(reason) : null;

    private static string OneLine(string text) => string.Join(' ', Lines(text));

    private static IEnumerable<string> Lines(string text) =>
        Words.Lines(text).Select(Words.Clean);
}
