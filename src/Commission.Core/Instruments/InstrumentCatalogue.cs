using System.Collections.Immutable;
using System.Globalization;

namespace Commission.Core.Instruments;

/// <summary>A row of the catalogue: an instrument as its standard or maker describes it.</summary>
/// <param name="Id">Id, as typed after <c>--like</c>.</param>
/// <param name="Title">What it is, in words.</param>
/// <param name="Instrument">Limit, resolution, range and source; its name is the id.</param>
public sealed record CatalogueInstrument(string Id, string Title, Instrument Instrument);

/// <summary>Instruments with their limits of error and the sources of these, carried in the program as data.</summary>
public static class InstrumentCatalogue
{
    private const string Resource = "instruments/catalogue.csv";

    /// <summary>The kinds by their words, as typed, listed and written in procedure files.</summary>
    public static IReadOnlyDictionary<string, InstrumentKind> Kinds { get; } = new Dictionary<string, InstrumentKind>(StringComparer.Ordinal)
    {
        ["caliper-digital"] = InstrumentKind.CaliperDigital,
        ["caliper-vernier"] = InstrumentKind.CaliperVernier,
        ["indicator"] = InstrumentKind.Indicator,
        ["tape"] = InstrumentKind.Tape,
        ["rule"] = InstrumentKind.Rule,
        ["length-standard"] = InstrumentKind.LengthStandard,
        ["square"] = InstrumentKind.Square,
        ["spring-balance"] = InstrumentKind.SpringBalance,
        ["multimeter"] = InstrumentKind.Multimeter,
        ["other"] = InstrumentKind.Other,
    };

    /// <summary>All rows, in the order of the data.</summary>
    public static ImmutableArray<CatalogueInstrument> All { get; } = Load();

    /// <summary>The instrument of an id; null where there is none.</summary>
    public static Instrument? Find(string id) => All.FirstOrDefault(row => row.Id == id)?.Instrument;

    /// <summary>The kind of a word; null where there is none.</summary>
    public static InstrumentKind? KindOf(string word) => Kinds.TryGetValue(word, out var kind) ? kind : null;

    /// <summary>The word of a kind.</summary>
    public static string WordOf(InstrumentKind kind) => Kinds.First(pair => pair.Value == kind).Key;

    /// <summary>The word of a kind as it stands in a sentence.</summary>
    public static string Called(InstrumentKind kind) => WordOf(kind).Replace('-', ' ');

    private static ImmutableArray<CatalogueInstrument> Load() =>
        [.. CsvLine.Split(Carried.Text(Resource)).Skip(1).Select(line => Row(CsvLine.Cells(line, ',').ConvertAll(cell => cell.Text)))];

    private static CatalogueInstrument Row(List<string> cells)
    {
        var kind = KindOf(cells[1]) ?? throw new InvalidOperationException($"The catalogue names the kind {cells[1]}.");
        var source = $"{cells[6]} ({cells[7]})";
        return new(cells[0], cells[2], new Instrument(cells[0], kind, Number(cells[3]), Number(cells[4]), Number(cells[5]), source));
    }

    private static double? Number(string text) => text.Length == 0 ? null : double.Parse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture);
}
