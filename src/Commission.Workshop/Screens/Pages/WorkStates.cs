using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Core.Upkeep;

namespace Commission.Workshop.Screens.Pages;

/// <summary>How each procedure stands, as the list of the work says it: under way, put aside, done, or what it waits for.</summary>
/// <param name="desk">The desk.</param>
public sealed class WorkStates(Desk desk)
{
    private readonly MachineUpkeep _upkeep = new(desk.Fold, desk.Machine!, desk.Now, desk.Means.Journal.Limits);

    /// <summary>The run of a procedure that can be taken up again; null where there is none.</summary>
    public static RunRecord? Left(Desk desk, Procedure procedure, AxisName? axis) =>
        desk.Means.TakeUp is not null && desk.Ledger.Resumable(desk.MachineName!, procedure.Id, axis?.ToString()) is { } left && left.Started.Body.Axis == axis?.ToString() ? left : null;

    /// <summary>How a run was left, and when.</summary>
    public static string Words(RunRecord left) => left.Standing == RunStanding.PutAside
        ? string.Create(CultureInfo.InvariantCulture, $"put aside {left.Ended?.At ?? left.Started.At:d MMM}")
        : string.Create(CultureInfo.InvariantCulture, $"left open {left.Started.At:d MMM}");

    /// <summary>How a procedure stands; empty where nothing is known of it.</summary>
    public string Of(Procedure procedure, AxisName? axis)
    {
        if (desk.Running is { Session.Run: var run } && run.Procedure.Id == procedure.Id && run.Setting.Axis == axis)
            return "under way";
        if (Left(desk, procedure, axis) is { } left)
            return Words(left);
        var item = WorkGraph.Find(procedure.Id);
        if (item is not null && State(item, axis).Standing == Standing.NotApplicable)
            return "not for this machine";
        if (Done(procedure, axis) is { } at)
            return string.Create(CultureInfo.InvariantCulture, $"done {at:d MMM}{(item is null ? "" : Since(item, axis))}");
        return WaitsFor(procedure, axis) is { } waits ? "waits for " + waits : "";
    }

    /// <summary>What a procedure waits for, by the name it has on the bench; null where nothing stands in its way.</summary>
    public string? WaitsFor(Procedure procedure, AxisName? axis) => WorkGraph.Find(procedure.Id) is { } item && _upkeep.WaitsFor(Key(item, axis)) is { } other ? Named(other) : null;

    /// <summary>The name of a result by its key, with its axis.</summary>
    public static string Named(ResultKey key) => ResultName.Of(key.Item) + (key.Axis is null ? "" : " " + key.Axis);

    // Of a long past only what bears on the present is at hand: runs that were over before it are told by the index.
    private readonly Lazy<ILookup<(string Procedure, string? Axis), DateTimeOffset>> _over = new(() => (desk.Means.Journal.Runs(desk.MachineName!) ?? [])
        .Where(run => run.Ended == "completed").ToLookup(run => (run.Procedure, run.Axis), run => run.At));

    private DateTimeOffset? Done(Procedure procedure, AxisName? axis) => desk.Ledger.Runs.Values.Where(run => run.Standing == RunStanding.Completed
            && run.Started.Body.Machine == desk.MachineName && run.Started.Body.Procedure == procedure.Id && run.Started.Body.Axis == axis?.ToString()).Select(run => run.Ended?.At)
        .Concat(_over.Value[(procedure.Id, axis?.ToString())].Select(at => (DateTimeOffset?)at)).Max();

    private string Since(WorkItem item, AxisName? axis) => State(item, axis).Standing switch { Standing.Suspect => ", suspect", Standing.Stale => ", stale", Standing.Due => ", due", _ => "" };

    private ResultState State(WorkItem item, AxisName? axis) => _upkeep.State(Key(item, axis));

    private ResultKey Key(WorkItem item, AxisName? axis) =>
        new(item.Scope == WorkScope.Hand ? "" : desk.MachineName!, item.Id, item.Scope == WorkScope.Axis ? (axis ?? AxisName.X).ToString() : null);
}
