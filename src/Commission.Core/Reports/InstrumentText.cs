using System.Text.Json;
using Commission.Core.Instruments;
using Commission.Core.Quantities;
using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>An instrument in one line, and as JSON.</summary>
public static class InstrumentText
{
    /// <summary>Name, kind, limit with its source, resolution and range.</summary>
    /// <param name="instrument">The instrument.</param>
    /// <param name="retired">Whether it is out of use.</param>
    /// <param name="units">Units to show it in; millimetres where not told.</param>
    public static string Line(Instrument instrument, bool retired, ShownUnits? units = null)
    {
        var shown = units ?? ShownUnits.Millimetres;
        var (size, unit) = (shown.Length.Factor, shown.Length.Symbol);
        // A last digit in inches has no more digits than four behind the point.
        string Small(double mm) => shown == ShownUnits.Inches ? Invariant($"{mm / size:0.####} {unit}") : Invariant($"{mm:0.#####} {unit}");
        var limit = instrument.LimitMm is { } l ? "limit of error " + Small(l) : "limit of error not known";
        var resolution = instrument.ResolutionMm is { } r ? ", last digit " + Small(r) : "";
        var range = instrument.RangeMm is { } longest ? Invariant($", up to {longest / size:0.###} {unit}") : "";
        return Words.Clean($"{instrument.Name}: {InstrumentCatalogue.WordOf(instrument.Kind)}, {limit}{resolution}{range} ({shown.Told(instrument.Source)}){(instrument.TypesByCable ? ", types by cable" : "")}{(retired ? ", out of use" : "")}");
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
