using Commission.Core;
using Commission.Core.Procedures;
using Commission.Core.Reports;
using Commission.Core.Upkeep;
using Commission.Workshop.Sessions;

namespace Commission.App.Plain;

/// <content>Changes: a setting whose value is told, or something done by hand.</content>
internal sealed partial class PlainFront
{
    private Outcome<ProcedureRun> Changing(ProcedureSession session, Need.Change need)
    {
        SayOnce(need.Text);
        if (need.IsByHand)
            return ByHand(session, need);
        return need.Told is null ? Set(session, need) : Told(session, need);
    }

    private Outcome<ProcedureRun> Set(ProcedureSession session, Need.Change need)
    {
        var text = $"{FindingText.Setting(need.Proposed!)} Type the value that the controller shows now, or O to leave it as it is; so does an empty line. Q puts the run aside.";
        return Prompt(session, "text", need.Step, OneLine(text)) switch
        {
            null => session.Run,
            var answer when answer.Length == 0 || Is(answer, "o") => session.LeaveChange(),
            var answer => Understood(session, answer, "1") is { } value && Kept(session, need, answer, value) is { } kept ? session.TellChange(kept) : session.Run,
        };
    }

    // What was done with spanner and shims has no value: only that it is done is asked.
    private Outcome<ProcedureRun> ByHand(ProcedureSession session, Need.Change need)
    {
        var advice = need.Finding?.Advice;
        return Prompt(session, "confirm", need.Step, $"{OneLine(advice?.Next ?? advice?.Because ?? "")} Done? yes or S: it is done. no or O: it is not done, and the run goes on. Q puts the run aside.".TrimStart()) switch
        {
            null => session.Run,
            var answer when PlainWords.IsSo(answer) || Is(answer, "done") => Entered(session, need, null),
            var answer when PlainWords.IsNo(answer) || Is(answer, "not done") => session.LeaveChange(),
            var answer => Unclear(session, answer),
        };
    }

    private Outcome<ProcedureRun> Told(ProcedureSession session, Need.Change need) =>
        Prompt(session, "number", need.Step, $"Which value holds now, in {LengthUnit} with its sign? Empty or O: nothing was changed. Q puts the run aside.") switch
        {
            null => session.Run,
            var answer when answer.Length == 0 || Is(answer, "o") => session.LeaveChange(),
            var answer => Understood(session, answer, "mm") is { } value ? Entered(session, need, value) : session.Run,
        };

    private Outcome<ProcedureRun> Entered(ProcedureSession session, Need.Change need, double? after) => session.TellChange(after).Then<ProcedureRun>(run =>
    {
        Say(StaleTable.Sentence(need.EnteredAs));
        return run;
    });
}
