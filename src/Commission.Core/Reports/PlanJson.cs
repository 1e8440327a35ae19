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
        writer.WriteStartObject();
        writer.WriteString("format", "commission.plan/1");
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
        Flag(writer, "reachable", plan.Reachable);
        writer.WriteString("because", plan.Because);
        writer.WriteStartArray("assumed");
        foreach (var sentence in plan.Assumed) writer.WriteStringValue(sentence);
        writer.WriteEndArray();
        Parameters(writer, plan.Way);
        Rows(writer, plan.Rows);
        Ways(writer, "naive", plan.Naive);
        Ways(writer, "alternatives", plan.Alternatives);
        writer.WriteEndObject();
    }

    private static void Rows(Utf8JsonWriter writer, ImmutableArray<PlanCell> rows)
    {
        writer.WriteStartArray("rows");
        for (var k = 0; k < rows.Length; k++)
        {
            writer.WriteStartObject();
            writer.WriteNumber("order", k + 1);
            writer.WriteString("place", rows[k].Place);
            foreach (var (name, value) in rows[k].Given) writer.Number(name, value);
            foreach (var (name, word) in rows[k].Words) writer.WriteString(name, word);
            writer.WriteStartArray("goTo");
            foreach (var position in rows[k].GoTo)
            {
                writer.WriteStartObject();
                writer.WriteString("axis", position.Axis.ToString());
                writer.Number("mm", position.Mm);
                writer.WriteEndObject();
            }

            writer.WriteEndArray();
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
    }

    private static void Ways(Utf8JsonWriter writer, string name, ImmutableArray<PlanWay> ways)
    {
        writer.WriteStartArray(name);
        foreach (var way in ways)
        {
            writer.WriteStartObject();
            writer.WriteString("name", way.Name);
            writer.WriteNumber("readings", way.Readings);
            writer.Number("minutes", way.Minutes);
            writer.Number("predictedExpandedUncertainty", way.Expanded);
            Flag(writer, "reaches", way.Reaches);
            writer.WriteString("needs", way.Needs);
            Parameters(writer, way);
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
    }

    private static void Parameters(Utf8JsonWriter writer, PlanWay way)
    {
        writer.WriteStartArray("parameters");
        foreach (var parameter in way.Predicted)
        {
            writer.WriteStartObject();
            writer.WriteString("name", parameter.Name);
            writer.WriteString("unit", parameter.Unit);
            writer.Number("standardUncertainty", parameter.StandardUncertainty);
            writer.Number("freshUncertainty", parameter.FreshUncertainty);
            writer.Number("sharedUncertainty", parameter.SharedUncertainty);
            writer.Number("coverageFactor", parameter.CoverageFactor);
            writer.Number("expandedUncertainty", parameter.ExpandedUncertainty);
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
    }

    private static void Flag(Utf8JsonWriter writer, string name, bool? value)
    {
        if (value is { } known) writer.WriteBoolean(name, known);
        else writer.WriteNull(name);
    }
}
