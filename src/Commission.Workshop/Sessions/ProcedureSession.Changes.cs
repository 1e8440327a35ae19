using System.Globalization;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Procedures;

namespace Commission.Workshop.Sessions;

/// <content>Changes that a step asks for: told, entered, or left.</content>
public sealed partial class ProcedureSession
{
    /// <summary>
    /// The change was made: the value now is told, or read back; or what was to be done by hand is done. It is entered beside the answer, so
    /// that what it touches is measured again.
    /// </summary>
    /// <param name="after">The value now, in the unit of the setting; null where it was written and read back by the link, or nothing has a value.</param>
    public Outcome<ProcedureRun> TellChange(double? after)
    {
        if (Needs is not Need.Change asked) return new Problem("no change is asked for here", "Answer what is asked first");
        if (asked.Told is not null && after is null) return new Problem("the value that holds now was not told", "Type it in mm with its sign; where nothing was changed, say so");
        // The program may have ended between the entry and the answer: what stands in the journal already is not entered twice.
        if (Entered(asked, after) is { } body && Last() != Stamped(body) && Append(body) is Outcome<JournalEntry>.Bad bad)
            return new Outcome<ProcedureRun>.Bad(bad.Problems);
        var shown = asked.IsByHand ? SessionReplay.Done : after is { } number ? $"{SessionReplay.Set} {number.ToString("R", CultureInfo.InvariantCulture)}" : SessionReplay.Set;
        return Confirming(new RunEvent.ChangeTold(after), shown);
    }

    /// <summary>The change was not made.</summary>
    public Outcome<ProcedureRun> LeaveChange() => Confirming(new RunEvent.ChangeLeft(), SessionReplay.LeftAsIs);

    private EntryBody? Entered(Need.Change asked, double? after) => asked switch
    {
        { Told: { } told } => new EntryBody.SettingWritten { Name = told.Name, Axis = told.Axis, Before = ToldBefore(told), After = after!.Value, Stage = EntryBody.SettingWritten.Told },
        { Proposed: { } setting } => after is { } value
            ? new EntryBody.SettingWritten { Name = setting.Name, Axis = setting.Axis, Before = setting.Current, After = value, Stage = EntryBody.SettingWritten.Told }
            : null,
        _ => new EntryBody.ChangeTold(
            asked.EnteredAs, Run.Procedure.ForOneAxis && Run.Setting.Axis is { } axis ? MachineWords.Of(MachineWords.Axes, axis) : null,
            $"done in {Run.Procedure.Id}, step {asked.Step}{(asked.Finding is { } finding ? ": " + finding.Advice.Because : "")}"),
    };

    private EntryBody? Last() => journal.Entries(number).LastOrDefault(entry => entry.Body.Run == number)?.Body;

    private double? ToldBefore(ToldSetting told) => journal.Present(request.Machine.Name).Ledger.SettingsWritten
        .FindLast(written => written.Body.Machine == request.Machine.Name && written.Body.Name == told.Name && written.Body.Axis == told.Axis && !written.Body.IsIntended()) is { Body: var body }
        ? body.ReadBack ?? body.After : null;
}
