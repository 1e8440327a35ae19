using Commission.Core;
using Commission.Core.History;
using Commission.Core.Procedures;
using Commission.Core.Reports;
using Commission.Core.Quantities;
using Commission.Workshop.Sessions;

namespace Commission.App.Plain;

/// <content>One answer back.</content>
internal sealed partial class PlainFront
{
    private const string BackKey = "u", BackWord = "back";

    private static bool IsBack(string answer) => Is(answer, BackKey) || Is(answer, BackWord);

    // Where the letter begins one of the answers it means that one.
    private static bool IsBack(string answer, Need.Choose need) => Is(answer, BackWord) || (Is(answer, BackKey) && !Taken(need));

    private static bool Taken(Need.Choose need) => need.Options.Any(option => option.Word.StartsWith(BackKey, StringComparison.OrdinalIgnoreCase));

    // Offered where there is something to take back.
    private static string BackOffered(ProcedureSession session, Need.Choose? need = null)
    {
        var key = need is not null && Taken(need) ? BackWord : "U";
        return session.LastDone.Match(entry => entry.Body is EntryBody.ReadingTaken ? $" {key} takes the last reading back." : $" {key} takes the last answer back.", _ => "");
    }

    private Outcome<ProcedureRun> Back(ProcedureSession session) => session.LastDone.Then(entry =>
    {
        var done = entry.Body is EntryBody.ReadingTaken ? session.ReadAgain(entry.Sequence) : session.TakeBackAnswer().Then<ProcedureRun>(_ => session.Run);
        return done.Then<ProcedureRun>(run =>
        {
            Say("taken back: " + EntryText.What(entry.Body, ShownUnits.Named(LengthUnit)));
            return run;
        });
    });
}
