using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.Machines;
using Commission.Core.Plans;
using Commission.Core.Quantities;
using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>A plan in lines for people: the price of each way under the same ruler, then the readings in their order.</summary>
public static class PlanText
{
    private const int NameWidth = 62;

    /// <summary>All lines of a plan.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="units">Unit in which positions are shown.</param>
    public static ImmutableArray<string> Lines(PlanAnswer plan, LengthUnit units)
    {
        var head = plan.Way.Predicted[0];
        var title = CharacteristicKinds.TitleOf(plan.Kind);
        var wish = (plan.Limit is { } limit ? $", limit {Shown(limit, head.Unit)}" : "") + (plan.Wanted is { } wanted ? $", wanted U {Shown(wanted, head.Unit)} or less" : "");
        return
        [
            $"plan for {title}{(plan.Axis is { } axis ? " " + axis : "")}{wish}",
            Invariant($"  {"way",-NameWidth} {"readings",8} {"min",4}  U of {head.Name}"),
            .. plan.Naive.Select(way => Way("  ", way)),
            Way("> ", plan.Way),
            .. plan.Alternatives.Select(way => Way("  ", way)),
            "because: " + plan.Because,
            .. plan.Assumed.Select(sentence => "assumed: " + sentence),
            .. plan.Way.Predicted.Skip(1).Select(parameter => Invariant($"also told: {parameter.Name}, U {Shown(parameter.ExpandedUncertainty, parameter.Unit)} (k={parameter.CoverageFactor:0.00})")),
            "readings in their order:",
            .. plan.Rows.Select((row, k) => Row(row, k + 1, units)),
        ];
    }

    private static string Way(string mark, PlanWay way)
    {
        var told = way.Predicted.IsEmpty ? "tells nothing here" : Invariant($"{Shown(way.Predicted[0].ExpandedUncertainty, way.Predicted[0].Unit)} (k={way.Predicted[0].CoverageFactor:0.00})");
        return Invariant($"{mark}{Words.Clean(way.Name),-NameWidth} {way.Readings,8} {way.Minutes,4:0}  {told}{(way.Needs is { } needs ? "; needs " + needs : "")}");
    }

    private static string Row(PlanCell cell, int number, LengthUnit units)
    {
        var moves = cell.GoTo.IsEmpty ? "" : ": go " + string.Join(", then ", cell.GoTo.Select(to => $"{to.Axis} {Length(to.Mm, units)}"));
        var marks = cell.Given.TryGetValue("x1_mm", out var x1)
            ? $": ({Length(x1, units)}, {Length(cell.Given["y1_mm"], units)}) to ({Length(cell.Given["x2_mm"], units)}, {Length(cell.Given["y2_mm"], units)})"
                + (cell.Words.TryGetValue("approach1", out var approach) ? $", approached {approach} and {cell.Words["approach2"]}" : "")
            : "";
        return Invariant($"{number,4}  {cell.Place}{marks}{moves}");
    }

    private static string Length(double mm, LengthUnit units) => units == LengthUnit.Inch
        ? (mm / Inch.Mm).ToString("0.0000##", CultureInfo.InvariantCulture) + " in"
        : mm.ToString("0.000", CultureInfo.InvariantCulture) + " mm";

    private static string Shown(double value, string unit) => PlanWords.Shown(value, unit);
}
