using System.Collections.Immutable;
using Commission.Core;
using Commission.Core.Machines;
using Commission.Core.Plans;
using Commission.Core.Procedures;

namespace Commission.Workshop.Screens.Pages;

/// <summary>The readings that a procedure takes where no other plan was taken.</summary>
public static class OwnReadings
{
    /// <summary>Where is read, in order; none where it cannot be said before the run begins.</summary>
    /// <param name="desk">The desk.</param>
    /// <param name="procedure">The procedure.</param>
    /// <param name="axis">Its axis; null for none.</param>
    /// <param name="ofFirst">Only what its first evaluation uses.</param>
    public static ImmutableArray<PlanCell> Of(Desk desk, Procedure procedure, AxisName? axis, bool ofFirst)
    {
        var groups = procedure.AllSteps.OfType<Step.Evaluate>().FirstOrDefault()?.Groups ?? [];
        return ProcedureRun.Start(procedure, new RunSetting { Machine = desk.AsShown!, Axis = axis, Instrument = desk.InstrumentFor(procedure) }).Match(
            run => [.. run.Items.SelectMany(item => item.Step is Step.Read read && (!ofFirst || groups.Contains(read.Group)) ? GridPlan.Cells(read, item.Scope, run.Machine, run.Setting).Match(cells => cells, _ => []) : [])],
            _ => ImmutableArray<PlanCell>.Empty);
    }
}
