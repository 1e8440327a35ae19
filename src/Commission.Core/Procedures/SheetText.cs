using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Procedures.Aids;
using Commission.Core.Quantities;

namespace Commission.Core.Procedures;

/// <summary>A procedure as a sheet to print: this machine's positions, with empty boxes to write into. Typed in later, in the same order.</summary>
public static class SheetText
{
    private const string Box = "[            ]";

    /// <summary>The lines of the sheet.</summary>
    /// <returns>The sheet, or why the procedure cannot be planned for this machine.</returns>
    public static Outcome<ImmutableArray<string>> Lines(Procedure procedure, RunSetting setting) =>
        ProcedureRun.Start(procedure, setting).Then<ImmutableArray<string>>(run => Lines(run));

    private static ImmutableArray<string> Lines(ProcedureRun run)
    {
        var lines = ImmutableArray.CreateBuilder<string>();
        var axis = run.Procedure.ForOneAxis && run.Setting.Axis is { } name ? $", axis {name}" : "";
        lines.Add($"{run.Procedure.Title}{axis}, machine {run.Machine.Name}");
        lines.Add("Date ____________  Operator ____________  Instrument ____________________");
        lines.Add("");
        foreach (var hazard in run.Procedure.Hazards) lines.Add($"{Tick} Hazard: {Words.OneLine(hazard.What)} {Words.OneLine(hazard.Do)}");
        lines.Add("");
        var count = 0;
        foreach (var item in run.Items.Where(item => Conditions.Hold(item.When, run.Machine, item.Scope.Axis, run.Setting)))
            lines.AddRange(Lines(item, run, ref count));
        lines.Add("");
        foreach (var item in run.Items) lines.AddRange(DataLines(run, item));
        lines.AddRange(run.Procedure.Abort.Select(reason => "End early: " + Words.OneLine(reason)));
        return lines.ToImmutable();
    }

    private const string Tick = "[ ]";

    /// <summary>The data that the steps of a procedure make, as far as they need no answer of a run.</summary>
    public static ImmutableArray<WorkData> Data(Procedure procedure, RunSetting setting) => ProcedureRun.Start(procedure, setting).Match(
        run => [.. run.Items.SelectMany(item => run.DataOf(item)?.Match(data => data, _ => []) ?? [])],
        _ => ImmutableArray<WorkData>.Empty);

    private static IEnumerable<string> DataLines(ProcedureRun run, RunItem item) => run.DataOf(item) switch
    {
        Outcome<ImmutableArray<WorkData>>.Good { Value: var data } => data.SelectMany(one => one.Lines.Select(line => "  " + line).Prepend($"{one.Name}: {one.About}").Append("")),
        Outcome<ImmutableArray<WorkData>>.Bad { Problems: var problems } => [$"Lines for step '{item.Name}': {problems[0].What}", ""],
        _ => [],
    };

    private static ImmutableArray<string> Lines(RunItem item, ProcedureRun run, ref int count)
    {
        switch (item.Step)
        {
            case Step.Read read:
                var cells = GridPlan.Cells(read, item.Scope, run.Machine, run.Setting).Match(plan => plan, _ => []);
                var lines = ImmutableArray.CreateBuilder<string>();
                lines.Add(Filled(read.Ask, item));
                foreach (var cell in cells)
                {
                    count++;
                    var path = cell.GoTo.IsEmpty ? "" : "  " + string.Join(" then ", cell.GoTo.Select(position => string.Create(CultureInfo.InvariantCulture, $"{position.Axis} {position.Mm:F3}")));
                    lines.Add(string.Create(CultureInfo.InvariantCulture, $"  {count,3}  {cell.Place}{path}   {Box} {read.Unit}"));
                }

                return lines.ToImmutable();
            case Step.Check check:
                return [$"{check.Id}  {Filled(check.Ask, item)}  limit {CheckLimits.Words(check)}   {Box}"];
            case Step.Set set:
                return [$"{Filled(set.Ask, item)}   {Box}"];
            case Step.Ladder ladder:
                return [$"{Filled(ladder.Verdict, item)}   {Box}"];
            case Step.Instruct { Drawing: { } drawing } told:
                return [$"{Tick} {Filled(told.Text, item)}", .. drawing.Rows.Select(row => "    " + Placeholders.Fill(row, name => item.Scope.Texts.GetValueOrDefault(name))), "    In words: " + Filled(drawing.Words, item)];
            default:
                return [.. item.Step.Texts.Select(text => $"{Tick} {Filled(text, item)}")];
        }
    }

    private static string Filled(string text, RunItem item) =>
        Placeholders.Fill(Words.OneLine(text), name => item.Scope.Texts.GetValueOrDefault(name));
}
