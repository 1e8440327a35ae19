using System.Collections.Immutable;
using Commission.Core.Machines;
using Commission.Core.Plans;

namespace Commission.Core.Procedures.Aids;

/// <summary>Lines that drill the marks of a sheet, each come to from the side the plan names: without that the lost motion is not in the sheet.</summary>
internal static class PlateHoles
{
    public static Outcome<ImmutableArray<WorkData>> Make(DataRequest request)
    {
        if (request.Procedure.AllSteps.OfType<Step.Read>().Select(read => read.Grid).OfType<Grid.Distances>().FirstOrDefault(grid => grid.Sheet is not null) is not { Sheet: { } sheet } grid)
            return new Problem("the procedure reads no distances on a sheet", "Add a 'read' step with 'kind: pairs' and a 'sheet'");
        return request.Needed("depth-mm", 0.2, 50).Then(depth => request.Needed("feed-mm-min", 10, 5000).Then<ImmutableArray<WorkData>>(feed =>
        {
            var range = GridPlan.RangeOf(request.Setting.Instrument);
            var factor = MarkPlan.Factor(sheet, request.Machine, range);
            var (left, near) = (Corner(request.Machine, AxisName.X, sheet.WidthMm * factor), Corner(request.Machine, AxisName.Y, sheet.DepthMm * factor));
            var lines = new IsoLines(request.Machine.Units).Begin();
            foreach (var mark in MarkPlan.Marks(grid, request.Machine, range))
                Drill(lines, mark.XMm - left, mark.YMm - near, mark.Approach, depth, feed);
            var size = $"{lines.Shown(sheet.WidthMm * factor)} by {lines.Shown(sheet.DepthMm * factor)} {MachineWords.Of(MachineWords.Units, request.Machine.Units)}";
            return ImmutableArray.Create(new WorkData("plate-holes.txt", $"Drills {grid.Marks.Length} holes into a sheet of {size}. Zero of X and Y is its near left corner, zero of Z its upper face.{IsoLines.Ways}", lines.Lines));
        }));
    }

    private static double Corner(Machine machine, AxisName axis, double size) =>
        AxisPlan.Commandable(machine, axis, (machine.Travel(axis) / 2) - (size / 2));

    private static void Drill(IsoLines lines, double x, double y, string approach, double depth, double feed) => lines
        .Above(x + Overrun(approach[0]), y + Overrun(approach[1]))
        .To(x, y, 600)
        .ToHeight(-depth, feed)
        .Up();

    private static double Overrun(char side) => side == '+' ? -AxisPlan.OverrunMm : AxisPlan.OverrunMm;
}
