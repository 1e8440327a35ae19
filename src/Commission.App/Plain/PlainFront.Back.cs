using System.Globalization;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Procedures;
using Commission.Core.Reports;
using Commission.Core.Quantities;
using Commission.Workshop.Sessions;

namespace Commission.App.Plain;

/// <content>One answer back, and what is asked about an answer before it is kept.</content>
internal sealed partial class PlainFront
{
    // Where the letter begins one of the answers it means that one.
    private static bool IsBack(string answer, Need.Choose need) => PlainWords.IsBack(answer) && !(PlainWords.IsBackLetter(answer) && Taken(need));

    private static bool Taken(Need.Choose need) => need.Options.Any(option => PlainWords.IsBackLetter(option.Word[..1]));

    // Offered where there is something to take back.
    private static string BackOffered(ProcedureSession session, Need.Choose? need = null)
    {
        var key = need is not null && Taken(need) ? "back" : "U";
        return session.LastDone.Match(entry => entry.Body switch
        {
            EntryBody.ReadingTaken => $" {key} takes the last reading back.",
            EntryBody.Superseded or EntryBody.Excluded => $" {key} brings back the reading that was taken out.",
            _ => $" {key} takes the last answer back.",
        }, _ => "");
    }

    // A number that cannot have its sign, or contradicts what is known, is asked about before it is kept; null where it is typed again.
    private double? Kept(ProcedureSession session, Need.Number need, string typed, double value)
    {
        if (AnswerDoubt.About(session.Run, Words.Clean(typed), new RunEvent.NumberGiven(typed, value)) is not { } doubt) return value;
        return Doubted(session, need.Step, doubt.Reason, doubt.Meant is { } meant ? Shown(meant, need) : null, "O", Shown(value, need)) switch { DoubtAnswer.Meant => doubt.Meant, DoubtAnswer.Kept => value, _ => null };
    }

    // In the unit it is typed in.
    private static string Shown(double value, Need.Number need) =>
        string.Create(CultureInfo.InvariantCulture, $"{need.AsTyped(value):0.######} {(need.TypedIn == "1" ? "" : Spoken(need.TypedIn))}").TrimEnd();

    // O left the setting as it is in the question before: a value far from what was proposed is stored by a word that is no letter of either.
    private double? Kept(ProcedureSession session, Need.Change need, string typed, double value)
    {
        if (AnswerDoubt.About(need.Proposed!, Words.Clean(typed), value) is not { } doubt) return value;
        var unit = need.Proposed!.ExpressedAs;
        var meant = doubt.Meant is { } number ? string.Create(CultureInfo.InvariantCulture, $"{number:0.000###} {unit}") : null;
        return Doubted(session, need.Step, doubt.Reason, meant, "keep", string.Create(CultureInfo.InvariantCulture, $"{value:0.######} {unit}")) switch { DoubtAnswer.Meant => doubt.Meant, DoubtAnswer.Kept => value, _ => null };
    }

    private bool Kept(ProcedureSession session, Need.Choose need, string word) =>
        session.Run.Clash(new RunEvent.Chosen(word)) is not { } clash || Doubted(session, need.Step, clash.Reason, null, "O", word) == DoubtAnswer.Kept;

    private DoubtAnswer Doubted(ProcedureSession session, string step, string reason, string? meant, string keeps, string typed)
    {
        var question = $"{ShownUnits.Named(LengthUnit).Told(reason)}. A slip? R answers anew.{(meant is null ? "" : $" A takes {meant}.")} {keeps} stores {typed}. Empty for R.";
        while (Prompt(session, "choose", step, question, back: () => session.Run) is { } answer)
        {
            if (meant is not null && Is(answer, "a")) return DoubtAnswer.Meant;
            if (Is(answer, keeps)) return DoubtAnswer.Kept;
            if (answer.Length == 0 || Is(answer, "r") || IsYes(answer)) break;
            Tell([new Problem($"'{PlainText.Of(answer)}' is no answer here", "Answer with one of the letters or words in the question")]);
        }

        return DoubtAnswer.Anew;
    }

    private enum DoubtAnswer
    {
        Anew,
        Meant,
        Kept,
    }

    private Outcome<ProcedureRun> Back(ProcedureSession session) => session.TakeBack().Then<ProcedureRun>(entry =>
    {
        Say("taken back: " + What(session, entry.Body));
        return session.Run;
    });

    // A reading of a study of the hand is named without what it was: who hears it reads towards it.
    private string What(ProcedureSession session, EntryBody body)
    {
        var units = ShownUnits.Named(LengthUnit);
        string Named(long sequence) => session.Run.Readings.FirstOrDefault(taken => taken.Sequence == sequence) is { } taken
            ? string.Create(CultureInfo.InvariantCulture, $"reading {taken.CellIndex + 1}, {units.Told(taken.Cell.Place)},") : string.Create(CultureInfo.InvariantCulture, $"reading of entry {sequence}");
        return body switch
        {
            EntryBody.ReadingTaken reading when session.Run.Readings.Any(taken => taken.Step == reading.Step && session.Run.IsBlind(taken.Group)) => ReadingName.Of(reading, subject: null, units),
            EntryBody.Superseded old => $"{Named(old.Reading)} was replaced: {units.Told(old.Reason)}",
            EntryBody.Excluded left => $"{Named(left.Reading)} was left out: {left.Reason}",
            _ => EntryText.What(body, units),
        };
    }
}
