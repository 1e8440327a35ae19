using System.Collections.Immutable;
using Commission.Core;
using Commission.Core.Instruments;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Practice.Bench;

namespace Commission.App.Rehearsal;

/// <summary>Which test of the practice bench the readings of a procedure belong to.</summary>
internal static class BenchTests
{
    /// <summary>Id of the test that readings of a group belong to; the procedure's own id where nothing evaluates them.</summary>
    public static string Of(Procedure procedure, string group) =>
        Evaluation(procedure, group) is { } evaluate ? Of(evaluate.Kind, evaluate.Place) : procedure.Id;

    /// <summary>Id of the test behind a kind of characteristic at a place.</summary>
    public static string Of(string kind, string? place) => (kind, place) switch
    {
        ("square-reversal", "XZ") => "z-square-x",
        ("square-reversal", "YZ") => "z-square-y",
        _ => kind,
    };

    /// <summary>All tests that a procedure sets up.</summary>
    public static IEnumerable<string> Of(Procedure procedure) => procedure.AllSteps.OfType<Step.Evaluate>().Select(e => Of(e.Kind, e.Place))
        .Concat(procedure.AllSteps.OfType<Step.Read>().Select(read => Of(procedure, read.Group))).Distinct();

    /// <summary>The cell of the bench for a cell of a plan.</summary>
    public static Cell CellOf(ProcedureRun run, string group, Core.Plans.PlanCell cell, int index, int count)
    {
        var words = cell.Words;
        if (InstrumentWord((run.Current?.Step as Step.Read)?.With ?? run.Setting.Instrument?.Kind) is { } instrument)
            words = words.SetItem("instrument", instrument);
        // Places that are only named lie evenly between the first and the last; a second trial comes back the other way.
        var things = Math.Max(2, (int)(count / Math.Max(1, run.Cells.Max(c => c.Given.GetValueOrDefault("trial", 1)))));
        var share = (double)(index % things) / (things - 1);
        var given = cell.Given.SetItem("share", index / things % 2 == 0 ? share : 1 - share);
        foreach (var (option, text) in Evaluation(run.Procedure, group)?.Options ?? ImmutableSortedDictionary<string, string>.Empty)
        {
            // What the evaluation is told of the set-up, the set-up has: a nominal size, a radius.
            if (NumberOf(run, text) is { } number)
                given = given.SetItem(option.Replace('-', '_'), number);
        }

        return new Cell(Of(run.Procedure, group), AxisOf(run, group, cell), given, words);
    }

    private static AxisName? AxisOf(ProcedureRun run, string group, Core.Plans.PlanCell cell)
    {
        if (!cell.GoTo.IsDefaultOrEmpty)
            return cell.GoTo[^1].Axis;
        return Evaluation(run.Procedure, group)?.Axis?.Fixed ?? run.Current?.Scope.Axis;
    }

    private static Step.Evaluate? Evaluation(Procedure procedure, string group) =>
        procedure.AllSteps.OfType<Step.Evaluate>().FirstOrDefault(evaluate => evaluate.Groups.Contains(group));

    private static double? NumberOf(ProcedureRun run, string text) =>
        YamlFields.TryNumber(text, out var number) ? number : run.Values.GetValueOrDefault(text)?.Number;

    private static string? InstrumentWord(InstrumentKind? kind) => kind switch
    {
        InstrumentKind.Tape or InstrumentKind.Rule => "tape",
        InstrumentKind.Indicator => "indicator",
        InstrumentKind.CaliperDigital or InstrumentKind.CaliperVernier => "caliper",
        _ => null,
    };
}
