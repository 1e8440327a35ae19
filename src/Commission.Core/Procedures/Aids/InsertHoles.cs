using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Machines;

namespace Commission.Core.Procedures.Aids;

/// <summary>Positions of a grid of inserts as a table, and lines that drill them.</summary>
internal static class InsertHoles
{
    private const double DrillMm = 12;

    public static Outcome<ImmutableArray<WorkData>> Make(DataRequest request) => request.Needed("pitch-mm", 20, 300)
        .Then(pitch => request.Needed("cutter-mm", 1, 80)
            .Then(cutter => request.Needed("insert-mm", 2, 40)
                .Then(hole => request.Needed("feed-mm-min", 10, 5000)
                    .Then(feed => KeepOut.Parse(request.Text("keep-out") ?? "")
                        .Then(keepOut => InsertGrid.Of(request.Machine.Travel(AxisName.X), request.Machine.Travel(AxisName.Y), pitch, cutter, hole, keepOut))
                        .Then<ImmutableArray<WorkData>>(grid => ImmutableArray.Create(Table(grid, request.Machine.Units), Holes(grid, request.Machine, feed)))))));

    private static WorkData Table(InsertGrid grid, LengthUnit units)
    {
        var lines = new IsoLines(units);
        var unit = MachineWords.Of(MachineWords.Units, units);
        return new WorkData("insert-positions.csv", string.Create(CultureInfo.InvariantCulture,
            $"{grid.Places.Length} places, {grid.LeftOut} left out; usable area {lines.Shown(grid.UsableWidthMm)} by {lines.Shown(grid.UsableDepthMm)} {unit}, pitch {lines.Shown(grid.PitchMm)} {unit}. Counted from the low end of X and Y."),
            [$"number,x_{unit},y_{unit}", .. grid.Places.Select((place, i) => string.Create(CultureInfo.InvariantCulture, $"{i + 1},{lines.Shown(place.X)},{lines.Shown(place.Y)}"))]);
    }

    private static WorkData Holes(InsertGrid grid, Machine machine, double feed)
    {
        var lines = new IsoLines(machine.Units).Begin();
        foreach (var (x, y) in grid.Places)
            lines.Above(x, y).ToHeight(-DrillMm / 2, feed).ToHeight(1, feed * 2).ToHeight(-DrillMm, feed).Up();
        return new WorkData("insert-holes.txt", "Drills each place 12 mm deep in two strokes." + LowCorner.Words(machine) + " Zero of Z is the face of the board." + IsoLines.Ways + " Drill the first alone and try an insert in it.", lines.Lines);
    }
}
