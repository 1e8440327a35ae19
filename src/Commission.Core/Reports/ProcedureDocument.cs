using System.Globalization;
using System.Text.Json;
using Commission.Core.Procedures;

namespace Commission.Core.Reports;

/// <summary>A procedure as a document to read before anything is done, and as JSON.</summary>
public static class ProcedureDocument
{
    /// <summary>All of it in lines, hazards before the steps.</summary>
    public static IEnumerable<string> Lines(Procedure procedure) =>
    [
        $"{procedure.Title} ({procedure.Id})",
        procedure.Purpose.Trim(),
        string.Create(CultureInfo.InvariantCulture, $"Takes about {procedure.Minutes:0} minutes. For: {DocumentText.Conditions(procedure.When)}."),
        "",
        "Hazards, before the first step",
        .. procedure.Hazards.Select(hazard => $"  {hazard.What}: {hazard.Do}"),
        .. Listed("Rests on", procedure.Needs.Select(need => $"{need.Procedure} ({(need.Must ? "needed" : "advised")}): {need.Because}")),
        .. Listed("Instruments", procedure.Instruments.Select(i => $"{i.For}: {string.Join(" or ", i.Kinds.Select(Instruments.InstrumentCatalogue.WordOf))}; without one: {i.OrElse}")),
        "",
        "Steps",
        .. procedure.Steps.SelectMany((step, at) => StepLines(step, at)),
        .. Listed("What the result means", procedure.Evaluation),
        .. Listed("End it early when", procedure.Abort),
        .. Listed("Good readings", procedure.GoodData),
        .. Listed("Common slips", procedure.Slips),
    ];

    /// <summary>Procedures as a JSON list: id, title, minutes, purpose, whether for one axis, whether the user's own.</summary>
    public static void Json(Utf8JsonWriter writer, IEnumerable<(Procedure Procedure, bool Own)> procedures)
    {
        writer.WriteStartArray();
        foreach (var (procedure, own) in procedures)
        {
            writer.WriteStartObject();
            writer.WriteString("id", procedure.Id);
            writer.WriteString("title", procedure.Title);
            writer.Number("minutes", procedure.Minutes);
            writer.WriteString("purpose", procedure.Purpose);
            writer.WriteBoolean("forOneAxis", procedure.ForOneAxis);
            writer.WriteBoolean("own", own);
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
    }

    private static IEnumerable<string> StepLines(Step step, int at)
    {
        var texts = step.WithInner.SelectMany(inner => inner.Texts).SelectMany(text => text.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)).ToList();
        var number = (at + 1).ToString(CultureInfo.InvariantCulture).PadLeft(4);
        return texts.Count == 0 ? [$"{number}  {step.Name}"] : texts.Select((text, line) => line == 0 ? $"{number}  {text}" : $"      {text}");
    }

    private static IEnumerable<string> Listed(string heading, IEnumerable<string> lines)
    {
        var all = lines.ToList();
        return all.Count == 0 ? [] : ["", heading, .. all.Select(line => "  " + line.Trim())];
    }
}
