using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using Commission.Core.Machines;
using Commission.Core.Quantities;

namespace Commission.Core.Characteristics;

/// <summary>
/// Limits by the class of work. A table is carried in the program, <c>shared/acceptance/classes.json</c>, which names its sources; a file of
/// the same form, <c>classes.json</c> beside the journal, takes its place for the kinds it names.
/// </summary>
public sealed class AcceptanceClasses
{
    /// <summary>Name of an owner's own file, in the folder of the store.</summary>
    public const string FileName = "classes.json";

    private const string Resource = "acceptance/classes.json";
    private const string Format = "commission.acceptance/1";
    private const string Remedy = "Compare with acceptance/classes.json beside the program; until this is put right the shipped limits stand";

    // A row for angles of Z to the bed says so; one that does not holds for every angle that has none of its own.
    private const string PlaneMember = "plane";
    private const string Upright = "Z";

    private static readonly string[] Members = ["kind", "unit", PlaneMember, "wood", "plastics", "aluminium", "source"];

    private readonly ImmutableDictionary<(string Kind, string? Plane, WorkClass Work), (string Unit, double Value)> table;

    // Kinds and planes whose limits are the owner's.
    private readonly ImmutableHashSet<(string Kind, string? Plane)> own;

    private AcceptanceClasses(ImmutableDictionary<(string, string?, WorkClass), (string, double)> table, ImmutableHashSet<(string, string?)> own, string source) => (this.table, this.own, Source) = (table, own, source);

    /// <summary>The limits carried in the program.</summary>
    public static AcceptanceClasses Shipped { get; } = Load();

    /// <summary>Where the limits come from, in words.</summary>
    public string Source { get; }

    /// <summary>Ids of the kinds that have a limit.</summary>
    public ImmutableArray<string> Kinds => [.. table.Keys.Select(key => key.Kind).Distinct().Order(StringComparer.Ordinal)];

    /// <summary>The limit for the headline of a kind; null where the table has none.</summary>
    /// <param name="kind">Id of the kind of characteristic.</param>
    /// <param name="work">The class of work; an unknown one is treated as wood, and its words say so.</param>
    /// <param name="place">Place of the result: an angle in the planes XZ and YZ has a limit of its own, that of Z to the bed.</param>
    public Tolerance? For(string kind, WorkClass work, string? place = null)
    {
        var known = work == WorkClass.Unknown ? WorkClass.Wood : work;
        var plane = SquarePlane.IsUpright(place) && table.ContainsKey((kind, Upright, known)) ? Upright : null;
        return table.TryGetValue((kind, plane, known), out var row)
            ? new Tolerance(row.Value, row.Unit, Typed + NameOf(work) + (own.Contains((kind, plane)) ? ", " + OwnSource : "")) { From = LimitFrom.Class }
            : null;
    }

    /// <summary>Whether a limit came from a class of work and not from the owner's own word.</summary>
    public static bool Gave(Tolerance limit) => limit.Typed.StartsWith(Typed, StringComparison.Ordinal);

    /// <summary>The class of work that a limit came from, no class counting as wood; null where it is the owner's own word.</summary>
    public static WorkClass? ClassOf(Tolerance limit) => Gave(limit) && MachineWords.Classes.TryGetValue(limit.Typed[Typed.Length..].Split(',')[0], out var work) ? work : null;

    /// <summary>Name of a class in words.</summary>
    public static string NameOf(WorkClass work) => work == WorkClass.Unknown ? "wood, because no class was chosen" : MachineWords.Of(MachineWords.Classes, work);

    /// <summary>Reads an owner's own limits: they take the place of the shipped ones for the kinds named, the others stay.</summary>
    /// <param name="text">The file's text.</param>
    /// <param name="file">Its name, for problems.</param>
    public static Outcome<AcceptanceClasses> Read(string text, string file)
    {
        try
        {
            using var document = JsonDocument.Parse(text);
            var problems = new List<Problem>();
            var own = Rows(document.RootElement, (row, what) => problems.Add(new Problem(what, Remedy) { File = file, Line = LineOf(text, row), Column = 1 }));
            return problems.Count > 0
                ? new Outcome<AcceptanceClasses>.Bad([.. problems])
                : Over(own);
        }
        catch (JsonException broken)
        {
            return new Problem("the file of limits is not JSON", Remedy) { File = file, Line = (int)(broken.LineNumber ?? 0) + 1, Column = (int)(broken.BytePositionInLine ?? 0) + 1 };
        }
    }

    // A row of the owner's without a plane was written for every angle: the shipped one for Z gives way to it.
    private static AcceptanceClasses Over(Dictionary<(string Kind, string? Plane, WorkClass Work), (string, double)> own)
    {
        var everywhere = own.Where(row => row.Key.Plane is null && Shipped.table.ContainsKey((row.Key.Kind, Upright, row.Key.Work)) && !own.ContainsKey((row.Key.Kind, Upright, row.Key.Work)))
            .Select(row => KeyValuePair.Create((row.Key.Kind, (string?)Upright, row.Key.Work), row.Value));
        var all = own.Concat(everywhere).ToList();
        return new AcceptanceClasses(Shipped.table.SetItems(all), [.. all.Select(row => (row.Key.Item1, row.Key.Item2))], OwnSource);
    }

    private const string Typed = "class of work: ";
    private const string OwnSource = $"own limits, {FileName} beside the journal";

    private static AcceptanceClasses Load()
    {
        using var document = JsonDocument.Parse(Carried.Text(Resource));
        return new AcceptanceClasses(Rows(document.RootElement, (_, what) => throw new InvalidOperationException(what)).ToImmutableDictionary(), [], "the shipped limits");
    }

    private static Dictionary<(string Kind, string? Plane, WorkClass Work), (string, double)> Rows(JsonElement root, Action<int, string> wrong)
    {
        var rows = new Dictionary<(string Kind, string? Plane, WorkClass Work), (string, double)>();
        if (root.ValueKind != JsonValueKind.Object || !root.TryGetProperty("format", out var format) || format.ToString() != Format)
        {
            wrong(-1, $"the file does not say \"format\": \"{Format}\"");
            return rows;
        }

        if (!root.TryGetProperty("limits", out var limits) || limits.ValueKind != JsonValueKind.Array)
        {
            wrong(-1, "the file has no list \"limits\"");
            return rows;
        }

        var at = 0;
        foreach (var limit in limits.EnumerateArray())
        {
            var row = at++;
            Row(limit, rows, what => wrong(row, string.Create(CultureInfo.InvariantCulture, $"limit {row + 1}: {what}")));
        }

        return rows;
    }

    private static void Row(JsonElement limit, Dictionary<(string Kind, string? Plane, WorkClass Work), (string, double)> rows, Action<string> wrong)
    {
        if (limit.ValueKind != JsonValueKind.Object)
        {
            wrong("it is no object");
            return;
        }

        foreach (var unknown in limit.EnumerateObject().Where(member => !Members.Contains(member.Name)))
            wrong($"\"{Words.Clean(unknown.Name)}\" is no member; the members are {string.Join(", ", Members)}");
        var kind = limit.TryGetProperty("kind", out var word) && CharacteristicKinds.Find(word.ToString()) is { } found ? found : null;
        if (kind is null)
        {
            wrong($"\"{Words.Clean(word.ToString())}\" is no kind of characteristic");
            return;
        }

        var unit = limit.TryGetProperty("unit", out var written) ? written.ToString() : "";
        var wanted = kind.Parameters.First().Unit;
        if (unit != wanted)
            wrong($"the unit of {kind.Id} is \"{wanted}\", not \"{Words.Clean(unit)}\"");
        var plane = limit.TryGetProperty(PlaneMember, out var told) ? told.ToString() : null;
        if (plane is not (null or Upright))
            wrong($"the {PlaneMember} of {kind.Id} is \"{Upright}\", Z to the bed, or not told");
        foreach (var (name, work) in MachineWords.Classes.Where(pair => pair.Value != WorkClass.Unknown))
        {
            if (!limit.TryGetProperty(name, out var value) || value.ValueKind != JsonValueKind.Number || !(value.GetDouble() > 0) || !double.IsFinite(value.GetDouble()))
                wrong($"\"{name}\" of {kind.Id} is no finite number above 0");
            else if (!rows.TryAdd((kind.Id, plane, work), (unit, value.GetDouble())))
                wrong($"{kind.Id} stands there twice");
        }
    }

    // The line on which a row names its kind.
    private static int LineOf(string text, int row)
    {
        var place = -1;
        for (var seen = 0; seen <= row && (place = text.IndexOf("\"kind\"", place + 1, StringComparison.Ordinal)) >= 0; seen++)
        {
        }

        return place < 0 ? 1 : 1 + text.AsSpan(0, place).Count('\n');
    }
}
