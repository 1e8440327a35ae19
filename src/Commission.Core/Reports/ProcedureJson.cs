using System.Text.Json;
using Commission.Core.Procedures;

namespace Commission.Core.Reports;

/// <summary>Procedures as JSON.</summary>
public static class ProcedureJson
{
    /// <summary>Procedures as a JSON list: id, title, minutes, purpose, whether for one axis, whether the user's own.</summary>
    public static void Write(Utf8JsonWriter writer, IEnumerable<(Procedure Procedure, bool Own)> procedures)
    {
        writer.Objects(procedures, one =>
        {
            var (procedure, own) = one;
            writer.WriteString("id", procedure.Id);
            writer.WriteString("title", procedure.Title);
            writer.Number("minutes", procedure.Minutes);
            writer.WriteString("purpose", procedure.Purpose);
            writer.WriteBoolean("forOneAxis", procedure.ForOneAxis);
            writer.WriteBoolean("own", own);
        });
    }
}
