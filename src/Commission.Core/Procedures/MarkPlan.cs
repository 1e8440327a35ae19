using System.Collections.Immutable;
using Commission.Core.Machines;
using Commission.Core.Plans;

namespace Commission.Core.Procedures;

/// <summary>A mark where the machine makes it.</summary>
/// <param name="Name">Its name.</param>
/// <param name="XMm">Commanded X, mm.</param>
/// <param name="YMm">Commanded Y, mm.</param>
/// <param name="Approach">Side that X and Y come from last, X first.</param>
public sealed record PlacedMark(string Name, double XMm, double YMm, string Approach);

/// <summary>Where marks lie on this machine, and the distances between them in the order they are read.</summary>
public static class MarkPlan
{
    // The jaws need room beyond the longest distance: a hole's diameter and the worst millimetres at the end of the scale.
    private const double JawRoomMm = 10;

    /// <summary>The marks in the machine's own coordinates: over the travel, or on a sheet that lies in its middle.</summary>
    /// <param name="grid">The grid.</param>
    /// <param name="machine">The machine.</param>
    /// <param name="rangeMm">Range of the instrument, mm; null where it does not limit.</param>
    public static ImmutableArray<PlacedMark> Marks(Grid.Distances grid, Machine machine, double? rangeMm)
    {
        var factor = grid.Sheet is { } sheet ? Factor(sheet, machine, rangeMm) : 0;
        return [.. grid.Marks.Select(mark => new PlacedMark(mark.Name, At(AxisName.X, mark.X), At(AxisName.Y, mark.Y), mark.Approach ?? "++"))];

        double At(AxisName axis, double place) => grid.Sheet is { } on
            ? OnSheet(machine, axis, axis == AxisName.X ? on.WidthMm : on.DepthMm, place, factor)
            : AxisPlan.Commandable(machine, axis, AxisPlan.OverTravel(machine.Travel(axis), place));
    }

    /// <summary>By how much a sheet and the places on it are made larger than the file says, 1 for as they stand.</summary>
    /// <param name="sheet">The sheet.</param>
    /// <param name="machine">The machine, whose travel it must not exceed.</param>
    /// <param name="rangeMm">Range of the instrument, mm; null leaves the sheet as it is.</param>
    public static double Factor(MarkSheet sheet, Machine machine, double? rangeMm)
    {
        var wanted = rangeMm is { } range ? (range - JawRoomMm) / (sheet.RangeMm - JawRoomMm) : 1;
        return Math.Max(0.05, Math.Min(wanted, Math.Min(Free(machine, AxisName.X) / sheet.WidthMm, Free(machine, AxisName.Y) / sheet.DepthMm)));
    }

    /// <summary>The cells in the order they are read.</summary>
    internal static Outcome<ImmutableArray<PlanCell>> Cells(Grid.Distances grid, Machine machine, double? rangeMm)
    {
        var marks = Marks(grid, machine, rangeMm).ToDictionary(mark => mark.Name, StringComparer.Ordinal);
        var sides = grid.Marks.All(mark => mark.Approach is not null);
        ImmutableArray<string?> edges = grid.Edges.IsEmpty ? [null] : [.. grid.Edges];

        // Walls in turn and back, so that the jaws are changed half as often and a creeping zero falls out.
        var once = grid.Ways.SelectMany((way, i) => (i % 2 == 0 ? edges : [.. edges.Reverse()]).Select(edge => Cell(marks[way.From], marks[way.To], sides, edge))).ToImmutableArray();

        // Back and forth through the list: the first distance comes last again.
        return ImmutableArray.CreateRange(Enumerable.Range(0, grid.Repeats).SelectMany(round => round % 2 == 0 ? once : once.Reverse()));
    }

    private static PlanCell Cell(PlacedMark from, PlacedMark to, bool sides, string? edge)
    {
        var words = ImmutableSortedDictionary<string, string>.Empty;
        if (sides) words = words.Add("approach1", from.Approach).Add("approach2", to.Approach);
        if (edge is not null) words = words.Add("edges", edge);
        return new PlanCell
        {
            Place = $"mark {from.Name} to mark {to.Name}" + WallWords(edge),
            Given = ImmutableSortedDictionary<string, double>.Empty.Add("x1_mm", from.XMm).Add("y1_mm", from.YMm).Add("x2_mm", to.XMm).Add("y2_mm", to.YMm),
            Words = words,
        };
    }

    private static string WallWords(string? edge) => edge switch
    {
        "outer" => ", far walls (inside jaws)",
        "inner" => ", near walls (outside jaws)",
        "centre" => ", centre to centre",
        _ => "",
    };

    private static double OnSheet(Machine machine, AxisName axis, double size, double place, double factor) =>
        AxisPlan.Commandable(machine, axis, (machine.Travel(axis) / 2) + ((place - (size / 2)) * factor));

    private static double Free(Machine machine, AxisName axis) => Math.Max(0, AxisPlan.Reach(machine.Travel(axis), AxisPlan.EndMarginMm).Length);
}
