using System.Collections.Immutable;
using System.Text.Json;
using Commission.Core.Machines;

namespace Commission.Core.Characteristics;

/// <summary>Limits by the class of work, carried in the program as data: <c>shared/acceptance/classes.json</c>, which names its sources.</summary>
public static class AcceptanceClasses
{
    private const string Resource = "acceptance/classes.json";

    private static readonly ImmutableDictionary<(string Kind, WorkClass Work), (string Unit, double Value)> Table = Load();

    /// <summary>Ids of the kinds that have a limit.</summary>
    public static ImmutableArray<string> Kinds { get; } = [.. Table.Keys.Select(key => key.Kind).Distinct().Order(StringComparer.Ordinal)];

    /// <summary>The limit for the headline of a kind; null where the table has none.</summary>
    /// <param name="kind">Id of the kind of characteristic.</param>
    /// <param name="work">The class of work; an unknown one is treated as wood, and its words say so.</param>
    public static Tolerance? For(string kind, WorkClass work)
    {
        if (!Table.TryGetValue((kind, work == WorkClass.Unknown ? WorkClass.Wood : work), out var row)) return null;
        return new Tolerance(row.Value, row.Unit, "class of work: " + NameOf(work));
    }

    /// <summary>Name of a class in words.</summary>
    public static string NameOf(WorkClass work) => work == WorkClass.Unknown ? "wood, because no class was chosen" : MachineWords.Of(MachineWords.Classes, work);

    private static ImmutableDictionary<(string, WorkClass), (string, double)> Load()
    {
        using var stream = typeof(AcceptanceClasses).Assembly.GetManifestResourceStream(Resource) ?? throw new InvalidOperationException($"The program was built without {Resource}.");
        using var document = JsonDocument.Parse(stream);
        var table = ImmutableDictionary.CreateBuilder<(string, WorkClass), (string, double)>();
        foreach (var row in document.RootElement.GetProperty("limits").EnumerateArray())
        {
            var (kind, unit) = (row.GetProperty("kind").GetString()!, row.GetProperty("unit").GetString()!);
            foreach (var (word, work) in MachineWords.Classes)
                if (work != WorkClass.Unknown) table.Add((kind, work), (unit, row.GetProperty(word).GetDouble()));
        }

        return table.ToImmutable();
    }
}
