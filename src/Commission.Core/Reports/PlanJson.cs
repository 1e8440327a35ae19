using System.Collections.Immutable;
using System.Text.Json;
using Commission.Core.Plans;

namespace Commission.Core.Reports;

/// <summary>A plan in the form <c>commission.plan/1</c>.</summary>
public static class PlanJson
{
    /// <summary>Writes the plan as one object.</summary>
    public static void Write(Utf8JsonWriter writer, PlanAnswer plan)
    {
        writer.Document("commission.plan/1", () =>
        {
            writer.WriteString("kind", plan.Kind);
            writer.WriteString("axis", plan.Axis);
            writer.WriteNumber("readings", plan.Way.Readings);
            writer.Number("minutes", plan.Way.Minutes);
            var head = plan.Way.Predicted[0];
            writer.WriteString("parameter", head.Name);
            writer.WriteString("unit", head.Unit);
            writer.Number("predictedStandardUncertainty", head.StandardUncertainty);
            writer.Number("predictedExpandedUncertainty", head.ExpandedUncertainty);
            writer.Number("coverageFactor", head.CoverageFactor);
            writer.Number("limit", plan.Limit);
            writer.Number("wanted", plan.Wanted);
            writer.Flag("reachable", plan.Reachable);
            writer.WriteString("because", plan.Because);
            writer.Texts("assumed", plan.Assumed);
            Parameters(writer, plan.Way);
            Rows(writer, plan.Rows);
            Ways(writer, "naive", plan.Naive);
            Ways(writer, "alternatives", plan.Alternatives);
        });
    }

    private static void Rows(Utf8JsonWriter writer, ImmutableArray<PlanCell> rows)
    {
        var order = 0;
        writer.Objects("rows", rows, row =>
        {
            writer.WriteNumber("order", ++order);
            writer.WriteString("place", row.Place);
            foreach (var (name, value) in row.Given) writer.Number(name, value);
            foreach (var (name, word) in row.Words) writer.WriteString(name, word);
            writer.Objects("goTo", row.GoTo, position =>
            {
                writer.WriteString("axis", position.Axis.ToString());
                writer.Number("mm", position.Mm);
            });
        });
    }

    private static void Ways(Utf8JsonWriter writer, string name, ImmutableArray<PlanWay> ways)
    {
        writer.Objects(name, ways, way =>
        {
            writer.WriteString("name", way.Name);
            writer.WriteNumber("readings", way.Readings);
            writer.Number("minutes", way.Minutes);
            writer.Number("predictedExpandedUncertainty", way.Expanded);
            writer.Flag("reaches", way.Reaches);
            writer.WriteString("needs", way.Needs);
            Parameters(writer, way);
        });
    }

    private static void Parameters(Utf8JsonWriter writer, PlanWay way)
    {
        writer.Objects("parameters", way.Predicted, parameter =>
        {
            writer.WriteString("name", parameter.Name);
            writer.WriteString("unit", parameter.Unit);
            writer.Number("standardUncertainty", parameter.StandardUncertainty);
            writer.Number("freshUncertainty", parameter.FreshUncertainty);
            writer.Number("sharedUncertainty", parameter.SharedUncertainty);
            writer.Number("coverageFactor", parameter.CoverageFactor);
            writer.Number("expandedUncertainty", parameter.ExpandedUncertainty);
        });
    }
}
