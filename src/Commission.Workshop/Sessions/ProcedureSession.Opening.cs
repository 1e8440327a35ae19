using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Plans;
using Commission.Core.Procedures;
using Commission.Core.Reports;
using Commission.Core.Upkeep;
using Commission.Workshop.Controllers;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Sessions;

/// <content>How a session begins, or is taken up again.</content>
public sealed partial class ProcedureSession
{
    /// <summary>The run that a request would begin, with nothing kept of it.</summary>
    /// <param name="request">What is asked for.</param>
    /// <param name="linked">Whether it will move the machine over a link.</param>
    public static Outcome<ProcedureRun> Ahead(SessionRequest request, bool linked) => ProcedureRun.Start(request.Procedure, SettingOf(request) with { Link = linked });

    /// <summary>Begins a run, or takes an unfinished one up again at the same cell.</summary>
    /// <returns>The session, or why it cannot be: the procedure does not apply, the journal cannot be written, the procedure's text has changed.</returns>
    public static Outcome<ProcedureSession> Open(IJournal journal, SessionRequest request)
    {
        if (journal.ReadOnlyReason is { } readOnly)
            return new Problem("the store cannot be written: " + readOnly, "Put that right, then start again");
        var axis = AxisWord(request);
        var ledger = request.Resume ? journal.Present(request.Machine.Name).Ledger : null;
        var open = ledger?.Resumable(request.Machine.Name, request.Procedure.Id, axis);
        if (open?.Started.Body.Axis != axis) open = null;
        // Positions are such as can be commanded in the unit they are said in: the plan of a run keeps its unit.
        if (open is not null)
        {
            if (OfAnotherRatio(journal, request, open) is { } changed)
                return changed;
            LengthUnit? shown = null;
            if (open.Started.Body.Options.TryGetValue(UnitsOption, out var kept))
            {
                if (!MachineWords.Units.TryGetValue(kept, out var unit))
                    return new Problem($"the run that was put aside is kept in a unit that is not known: {PlainText.Of(kept)}", "Begin the procedure anew; what was measured stays in the log");
                shown = unit;
            }

            // And they are whole steps by the ratio that was in force when the run began: marks may have been made by it. Where nothing was measured, that of now counts.
            var untouched = open.Readings.IsEmpty && (axis is not null || !request.Procedure.AllSteps.OfType<Step.Read>().Any());
            request = request with { Shown = shown, Plan = [], Machine = untouched ? request.Machine : ledger!.AsOf(request.Machine, open.Sequence) };
            if (open.Started.Body.Options.TryGetValue(PlanOption, out var plan))
            {
                switch (PlanCellText.Read(plan))
                {
                    case Outcome<ImmutableArray<PlanCell>>.Bad bad: return new Outcome<ProcedureSession>.Bad(bad.Problems);
                    case Outcome<ImmutableArray<PlanCell>>.Good good: request = request with { Plan = good.Value }; break;
                }
            }
        }

        var setting = SettingOf(request) with { GreatestFeeds = FoundSpeeds.Of(ledger ?? journal.Present(request.Machine.Name).Ledger, request.Machine.Name) };
        return ProcedureRun.Start(request.Procedure, setting).Then(run => open is null ? Begin(journal, request, run, axis) : TakeUp(journal, request, open, run, [.. journal.Entries(open.Sequence)]));
    }

    // Readings before and after a change of the ratio are two axes; one fit of both is the error of neither. A run that has its finding has nothing left to mix.
    private static Problem? OfAnotherRatio(IJournal journal, SessionRequest request, RunRecord open)
    {
        var name = request.Machine.Name;
        if (!request.Procedure.ForOneAxis || request.Axis is not { } axis || open.Readings.IsEmpty || !open.Findings.IsEmpty
            || !journal.Entries(open.Sequence).Any(entry => entry.Body is EntryBody.SettingWritten or EntryBody.MachineDescribed && entry.Body.Machine == name && entry.Body.Run != open.Sequence))
            return null;
        var then = Ratio(Ledger.From(journal.Entries().TakeWhile(entry => entry.Sequence <= open.Sequence)));
        return then is { } old && Ratio(journal.Present(name).Ledger) is { } now && Math.Abs(now - old) > SameRatio * old
            ? new Problem(
                string.Create(CultureInfo.InvariantCulture, $"the readings of the unfinished run were taken with {old:0.######} steps per mm on {axis}, and now it is {now:0.######}: old and new readings do not belong together"),
                "Begin the procedure anew; what was measured stays in the log")
            : null;

        double? Ratio(Ledger ledger) => ledger.Machines.TryGetValue(name, out var machine) ? machine.Description[axis].StepsPerMm : null;
    }

    // Two ways of stating one ratio differ by the last digits of a number.
    private const double SameRatio = 1e-9;

    private const string UnitsOption = "units";

    /// <summary>Option of a run under which the plan is kept that it was begun with.</summary>
    public const string PlanOption = "plan";

    private static Outcome<ProcedureSession> Begin(IJournal journal, SessionRequest request, ProcedureRun fresh, string? axis)
    {
        var options = ImmutableSortedDictionary<string, string>.Empty;
        if (request.Tolerance is { } limit) options = options.Add("tolerance", limit.Typed);
        if (request.Shown is { } shown && shown != request.Machine.Units) options = options.Add(UnitsOption, MachineWords.Of(MachineWords.Units, shown));
        if (!request.Plan.IsEmpty) options = options.Add(PlanOption, PlanCellText.Write(request.Plan));
        var underWay = BegunMove.LeftOpen(journal, request.Machine.Name);
        var started = journal.Append(new EntryBody.RunStarted
        {
            Machine = request.Machine.Name, Operator = request.Operator, Procedure = request.Procedure.Id, ProcedureHash = request.ProcedureHash,
            Axis = axis, Instrument = request.Instrument?.Name, Seed = request.Seed,
            Options = options,
        });
        return started.Then<ProcedureSession>(entry => new ProcedureSession(journal, request, entry.Sequence, fresh) { UnderWay = underWay });
    }

    /// <summary>How a procedure that this one rests on stands for this machine and axis, in words; null where it is no result of them.</summary>
    /// <param name="procedure">Its id.</param>
    public string? Stands(string procedure)
    {
        if (WorkGraph.Find(procedure) is not { } item || journal.LastEntry is not { } last)
            return null;
        var (name, present) = (request.Machine.Name, journal.Present(request.Machine.Name));
        var key = new ResultKey(item.Scope == WorkScope.Hand ? "" : name, item.Id, item.Scope == WorkScope.Axis ? (request.Axis ?? AxisName.X).ToString() : null);
        return new MachineUpkeep(present.Upkeep, Run.Machine, last.At, journal.Limits).State(key) switch
        {
            { Standing: Standing.NotApplicable } => null,
            { Standing: Standing.Never } => "never measured",
            var state => StandingWords.Of(state),
        };
    }

    private static string? AxisWord(SessionRequest request) =>
        request.Procedure.ForOneAxis && request.Axis is { } axis ? MachineWords.Of(MachineWords.Axes, axis) : null;

    private static RunSetting SettingOf(SessionRequest request) => new()
    {
        Machine = request.Machine with { Units = request.Shown ?? request.Machine.Units }, Axis = request.Axis, Instrument = request.Instrument, HandSdMm = request.Hand?.StandardDeviationMm,
        Owned = request.Owned, Link = (request.Motion ?? request.Watch) is not null, Plan = request.Plan,
    };
}
