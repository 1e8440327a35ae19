using System.Text.Json;
using Commission.Core.Instruments;
using Commission.Core.Quantities;
using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>An instrument in one line, and as JSON.</summary>
public static class InstrumentText
{
    /// <summary>Name, kind, limit with its source, resolution and range.</summary>
    public static string Line(Instrument instrument, bool retired)
    {
        var limit = instrument.LimitMm is { } l ? Invariant($"limit of error {l:0.#####} mm") : "limit of error not known";
        var resolution = instrument.ResolutionMm is { } r ? Invariant($", last digit {r:0.#####} mm") : "";
        var range = instrument.RangeMm is { } longest ? Invariant($", up to {longest:0.###} mm") : "";
        return Words.Clean($"{instrument.Name}: {InstrumentCatalogue.WordOf(instrument.Kind)}, {limit}{resolution}{range} ({instrument.Source}){(instrument.TypesByCable ? ", types by cable" : "")}{(retired ? ", out of use" : "")}");
    }

    /// <summary>The same as one JSON object.</summary>
    public static void Json(Utf8JsonWriter writer, Instrument instrument, bool retired)
    {
        writer.WriteStartObject();
        writer.WriteString("name", instrument.Name);
        writer.WriteString("kind", InstrumentCatalogue.WordOf(instrument.Kind));
        writer.Number("limitMm", instrument.LimitMm);
        writer.Number("resolutionMm", instrument.ResolutionMm);
        writer.Number("rangeMm", instrument.RangeMm);
        writer.WriteString("source", instrument.Source);
        if (instrument.TypesByCable)
            writer.WriteBoolean("typesByCable", true);
        writer.WriteBoolean("retired", retired);
        writer.WriteEndObject();
    }
}
