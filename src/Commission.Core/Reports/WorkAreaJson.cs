using System.Collections.Immutable;
using System.Text.Json;
using Commission.Core.Upkeep;

namespace Commission.Core.Reports;

/// <summary>The figure of the work area and the comparisons of results, as members of a larger object.</summary>
public static class WorkAreaJson
{
    /// <summary>Writes the member <c>workArea</c>.</summary>
    public static void Write(Utf8JsonWriter writer, WorkArea area)
    {
        writer.WriteStartObject("workArea");
        writer.Number("width_mm", area.WidthMm);
        writer.Number("depth_mm", area.DepthMm);
        writer.Number("corner_x_mm", area.Corner?.X);
        writer.Number("corner_y_mm", area.Corner?.Y);
        writer.Number("error_mm", area.ErrorMm);
        writer.Number("expandedUncertainty_mm", area.ExpandedMm);
        writer.Number("limit_mm", area.LimitMm);
        writer.WriteString("verdict", FindingWords.Of(area.Verdict));
        writer.Texts("missing", area.Missing);
        writer.Objects("corners", area.Corners, corner =>
        {
            writer.Number("x_mm", corner.At.X);
            writer.Number("y_mm", corner.At.Y);
            writer.Number("error_mm", corner.ErrorMm);
            writer.Number("expandedUncertainty_mm", WorkArea.CoverageFactor * corner.Uncertainty);
            writer.WriteString("verdict", FindingWords.Of(corner.Verdict));
        });
        writer.Objects("sources", area.Evidence.Where(one => !one.Results.IsEmpty), one =>
        {
            writer.WriteString("quantity", one.Quantity.Title);
            writer.Texts("results", one.Results.Select(result => Quantities.Words.Clean(result.Name)));
            writer.WriteBoolean("agree", !one.Disputed);
        });
        writer.WriteBoolean("withheld", area.Withheld || area.Instead is not null);
        writer.WriteEndObject();
    }

    /// <summary>Writes the member <c>crossChecks</c>.</summary>
    public static void Write(Utf8JsonWriter writer, ImmutableArray<CrossCheck> checks)
    {
        writer.Objects("crossChecks", checks, check =>
        {
            writer.WriteString("quantity", check.Title);
            writer.WriteString("unit", check.Unit);
            writer.WriteBoolean("agree", check.Agree);
            writer.Number("birgeRatio", check.Birge);
            writer.Number("value", check.Value);
            writer.Number("standardUncertainty", check.Uncertainty);
            writer.Objects("results", check.Results, result =>
            {
                writer.WriteString("name", Quantities.Words.Clean(result.Name));
                writer.Number("value", result.Value);
                writer.Number("standardUncertainty", result.Uncertainty);
            });
        });
    }
}
