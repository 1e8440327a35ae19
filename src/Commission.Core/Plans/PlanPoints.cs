using System.Collections.Immutable;
using Commission.Core.Machines;

namespace Commission.Core.Plans;

/// <summary>Where the cells of a plan lie, for what stands in the way.</summary>
internal static class PlanPoints
{
    /// <summary>The points a cell needs: two marks, a position of an axis, an angle.</summary>
    public static IEnumerable<(string Along, double At)[]> Places(this PlanCell cell)
    {
        var given = cell.Given;
        if (given.TryGetValue("x1_mm", out var x1))
        {
            yield return [("X", x1), ("Y", given["y1_mm"])];
            yield return [("X", given["x2_mm"]), ("Y", given["y2_mm"])];
        }
        else if (!cell.GoTo.IsEmpty)
        {
            yield return [.. cell.GoTo.Reverse().DistinctBy(to => to.Axis).Select(to => (to.Axis.ToString(), to.Mm))];
        }
        else if (given.TryGetValue("angle_deg", out var angle) && cell.Words.GetValueOrDefault("line", "sweep") == "sweep")
        {
            yield return [("angle", angle)];
        }
    }

    /// <summary>Readings there and back through their places, so that a steady drift falls out; the first place comes last again.</summary>
    public static ImmutableArray<PlanReading> ThereAndBack(IEnumerable<PlanReading> readings, Func<PlanReading, double> place)
    {
        var left = readings.GroupBy(place).OrderBy(group => group.Key).Select(group => new Queue<PlanReading>(group)).ToList();
        var order = ImmutableArray.CreateBuilder<PlanReading>();
        var closing = left.Count > 1 && left[0].Count > 1 ? left[0].Dequeue() : null;
        for (var back = false; left.Count > 0; back = !back)
        {
            foreach (var queue in back ? Enumerable.Reverse(left).ToArray() : [.. left]) order.Add(queue.Dequeue());
            left.RemoveAll(queue => queue.Count == 0);
        }

        if (closing is not null) order.Add(closing);
        return order.ToImmutable();
    }

    /// <summary>A cell at a position of one axis, reached from one side.</summary>
    public static PlanCell OnAxis(PlanQuestion question, AxisName axis, string place, string column, double mm, bool increasing, double fromAboveMm = AxisPlan.OverrunMm) =>
        OnAxis(axis, place, column, question.Commandable(axis, mm), increasing, at => question.Commandable(axis, at), fromAboveMm);

    /// <summary>A cell at a position of one axis, reached from one side.</summary>
    /// <param name="axis">The axis.</param>
    /// <param name="place">Its name.</param>
    /// <param name="column">Column of the position.</param>
    /// <param name="target">The position, as it can be commanded, mm.</param>
    /// <param name="increasing">Whether it is reached in + direction.</param>
    /// <param name="commandable">The nearest position that can be commanded.</param>
    /// <param name="fromAboveMm">How far above the place it turns round to come in from above, mm: less where a dial stands there.</param>
    public static PlanCell OnAxis(AxisName axis, string place, string column, double target, bool increasing, Func<double, double> commandable, double fromAboveMm = AxisPlan.OverrunMm) => new()
    {
        Place = place,
        Given = ImmutableSortedDictionary<string, double>.Empty.Add(column, target),
        Words = ImmutableSortedDictionary<string, string>.Empty.Add("direction", increasing ? "+" : "-"),
        GoTo = [new Position(axis, commandable(target + (increasing ? -AxisPlan.OverrunMm : fromAboveMm))), new Position(axis, target)],
        Approach = increasing ? Approach.Increasing : Approach.Decreasing,
    };

    /// <summary>How many marks readings lie between.</summary>
    public static int Marks(IReadOnlyList<PlanReading> readings) => readings.SelectMany(reading => reading.Cell.Places())
        .Select(point => (point[0].At, point[1].At)).Distinct().Count();
}
