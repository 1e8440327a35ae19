using System.Globalization;
using System.Text.Json;
using Commission.Core.Quantities;
using Commission.Core.Upkeep;

namespace Commission.Core.Reports;

/// <summary>A trend as JSON, <c>commission.trend/1</c>: all numbers in the canonical unit.</summary>
public static class TrendJson
{
    /// <summary>Writes a trend.</summary>
    public static void Write(Utf8JsonWriter writer, TrendView view)
    {
        writer.Document("commission.trend/1", () =>
        {
            writer.WriteString("machine", Words.Clean(view.Machine));
            writer.WriteString("title", Words.Clean(view.Title));
            writer.WriteString("unit", view.Unit);
            writer.Number("limit", view.Limit);
            writer.WriteString("limitFrom", view.LimitTyped is null ? null : Words.Clean(view.LimitTyped));
            writer.Objects("results", view.Points, one => Point(writer, one));
            writer.Objects("changes", view.Events, one => Change(writer, one));
            writer.Objects("forecast", view.Forecast, one => Ahead(writer, one));
            writer.Number("driftPerMonth", view.Slope?.PerMonth);
            writer.Number("driftExpandedUncertainty", view.Slope?.Expanded);
            writer.Number("driftCoverageFactor", view.Slope?.CoverageFactor);
            writer.WriteString("whyNoDrift", view.WhyNoSlope);
            writer.WriteString("nextCheck", view.NextCheck is { } next ? At(next) : null);
            writer.WriteString("nextBecause", view.NextBecause);
            writer.WriteString("changed", view.Changed);
            writer.Texts("remarks", view.Remarks);
        });
    }

    private static void Point(Utf8JsonWriter writer, TrendPoint point)
    {
        writer.WriteNumber("entry", point.Sequence);
        writer.WriteString("at", At(point.At));
        writer.Number("value", point.Value);
        writer.Number("expandedUncertainty", point.Expanded);
        writer.Number("coverageFactor", point.CoverageFactor);
        writer.Number("freshUncertainty", point.Fresh);
        writer.WriteString("instrument", point.Instrument is null ? null : Words.Clean(point.Instrument));
        writer.Number("level", point.Level);
        writer.WriteBoolean("alarm", point.Alarm);
        writer.WriteNumber("baseline", point.Epoch);
    }

    private static void Change(Utf8JsonWriter writer, TrendEvent change)
    {
        writer.WriteNumber("entry", change.Sequence);
        writer.WriteString("at", At(change.At));
        writer.WriteString("change", Words.Clean(change.Word));
        writer.WriteBoolean("beginsBaseline", change.BeginsBaseline);
    }

    private static void Ahead(Utf8JsonWriter writer, TrendForecast ahead)
    {
        writer.WriteString("at", At(ahead.At));
        writer.Number("level", ahead.Level);
        writer.Number("halfWidth", ahead.HalfWidth);
    }

    private static string At(DateTimeOffset at) => at.ToString("yyyy-MM-ddTHH:mm:sszzz", CultureInfo.InvariantCulture);
}
