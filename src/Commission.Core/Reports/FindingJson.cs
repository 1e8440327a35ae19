using System.Collections.Immutable;
using System.Text.Json;
using Commission.Core.Characteristics;

namespace Commission.Core.Reports;

/// <summary>A finding in the form <c>commission.finding/1</c>.</summary>
public static class FindingJson
{
    /// <summary>Writes the finding as one object.</summary>
    public static void Write(Utf8JsonWriter writer, Finding finding)
    {
        writer.Document("commission.finding/1", () =>
        {
            writer.WriteString("kind", finding.Kind);
            writer.WriteString("method", finding.Method);
            writer.WriteNumber("rows", finding.Rows);
            writer.WriteNumber("used", finding.Used);
            writer.Objects("parameters", finding.Parameters, one => Parameter(writer, one));
            writer.WriteStartArray("covariance");
            foreach (var row in finding.Covariance)
                Numbers(writer, row);
            writer.WriteEndArray();
            writer.Number("residualStandardDeviation", finding.ResidualStandardDeviation);
            writer.WritePropertyName("residuals");
            Numbers(writer, finding.Residuals);
            writer.Objects("budget", finding.Budget, one => Budget(writer, one));
            writer.Objects("suspects", finding.Suspects, one => Suspect(writer, one));
            writer.Texts("remarks", [.. finding.Remarks, .. WithoutFreedom(finding)]);
            writer.WriteString("verdict", FindingWords.Of(finding.Verdict));
            writer.WritePropertyName("advice");
            Advice(writer, finding.Advice);
            writer.Number("limit", finding.Limit);
            writer.Number("limitOver_mm", finding.LimitOverMm);
        });
    }

    // A variance known beforehand has no finite count: such a number is null, and the reason stands among the remarks.
    private static IEnumerable<string> WithoutFreedom(Finding finding)
    {
        var known = finding.Parameters.Where(parameter => parameter is { ExpandedUncertainty: not null, DegreesOfFreedom: null or double.PositiveInfinity }).Select(parameter => parameter.Name).ToList();
        return known.Count == 0 ? [] : [$"no degrees of freedom are given for {string.Join(", ", known)}: nearly all of the uncertainty was known beforehand, so there is no finite number"];
    }

    private static void Parameter(Utf8JsonWriter writer, FittedParameter parameter)
    {
        writer.WriteString("name", parameter.Name);
        writer.WriteString("unit", parameter.Unit);
        writer.Number("value", parameter.Value);
        writer.Number("standardUncertainty", parameter.StandardUncertainty);
        writer.Number("freshUncertainty", parameter.FreshUncertainty);
        writer.Number("sharedUncertainty", parameter.SharedUncertainty);
        writer.Number("degreesOfFreedom", parameter.DegreesOfFreedom is { } count && double.IsFinite(count) ? count : null);
        writer.Number("coverageFactor", parameter.CoverageFactor);
        writer.Number("expandedUncertainty", parameter.ExpandedUncertainty);
        writer.WriteString("whyNoUncertainty", parameter.WhyNoUncertainty);
        if (parameter.Interval is not var (low, high))
            return;
        writer.Number("low", low);
        writer.Number("high", high);
    }

    private static void Numbers(Utf8JsonWriter writer, ImmutableArray<double> values)
    {
        writer.WriteStartArray();
        foreach (var value in values)
            writer.Number(value);
        writer.WriteEndArray();
    }

    private static void Budget(Utf8JsonWriter writer, BudgetLine line)
    {
        writer.WriteString("source", line.Source);
        writer.Number("share", line.Share);
        writer.WriteBoolean("repeatingHelps", line.RepeatingHelps);
    }

    private static void Suspect(Utf8JsonWriter writer, Suspect suspect)
    {
        writer.WriteNumber("row", suspect.Row);
        writer.WriteString("reason", suspect.Reason);
        writer.WriteString("suggestion", suspect.Suggestion);
    }

    private static void Advice(Utf8JsonWriter writer, Advice advice)
    {
        writer.WriteStartObject();
        writer.WriteString("action", FindingWords.Of(advice.Action));
        writer.WriteString("because", advice.Because);
        writer.WriteString("next", advice.Next);
        writer.WritePropertyName("setting");
        if (advice.Setting is { } setting)
            Setting(writer, setting);
        else
            writer.WriteNullValue();
        writer.WriteEndObject();
    }

    private static void Setting(Utf8JsonWriter writer, ProposedSetting setting)
    {
        writer.WriteStartObject();
        writer.WriteString("name", setting.Name);
        writer.WriteString("axis", setting.Axis);
        writer.WriteString("expressedAs", setting.ExpressedAs);
        writer.Number("current", setting.Current);
        writer.Number("proposed", setting.Proposed);
        writer.Number("asStored", setting.AsStored);
        writer.Number("roundingError", setting.RoundingError);
        writer.Number("standardUncertainty", setting.StandardUncertainty);
        writer.WriteEndObject();
    }
}
