using System.Collections.Immutable;
using Commission.Core.Instruments;

namespace Commission.Core.Procedures;

/// <summary>Reads a procedure's file, strictly: every key is known, every value has its form, and all problems come at once.</summary>
public static class ProcedureReader
{
    /// <summary>First line of a procedure's file.</summary>
    public const string Format = "commission.procedure/1";

    /// <summary>Reads a file's text.</summary>
    /// <param name="file">Name of the file, for the problems.</param>
    /// <param name="text">What it holds.</param>
    /// <returns>The procedure, or every problem found. References to other procedures and to kinds are for the checker.</returns>
    public static Outcome<Procedure> Read(string file, string text) => YamlFields.Read(file, text, fields => Procedure(file, fields));

    private static Procedure Procedure(string file, YamlFields fields)
    {
        fields.RequireFormat(Format);
        var procedure = new Procedure
        {
            File = file,
            Id = Id(fields),
            Title = fields.Text("title") ?? "",
            Purpose = fields.Text("purpose") ?? "",
            Minutes = fields.Number("minutes", 1, 10_000, required: true) ?? 0,
            Hazards = Hazards(fields),
            Needs = [.. Entries(fields, "needs").Select(Need)],
            Instruments = [.. Entries(fields, "instruments").Select(InstrumentNeed)],
            When = ConditionReader.Read(fields),
            Steps = StepReader.Steps(fields),
            Evaluation = fields.Texts("evaluation", required: true),
            Abort = fields.Texts("abort", required: true),
            GoodData = fields.Texts("goodData", required: true),
            Slips = fields.Texts("slips", required: true),
        };
        fields.Done();
        return procedure;
    }

    private static string Id(YamlFields fields)
    {
        var id = fields.Text("id") ?? "";
        if (id.Length > 0 && !IsName(id))
            fields.Report(fields.Optional("id")!, $"'id' is '{PlainText.Of(id)}'", "Use lower-case letters, digits and hyphens, such as axis-scale");
        return id;
    }

    /// <summary>Whether a text may be an id or the name of a step.</summary>
    internal static bool IsName(string text) =>
        text.Length is > 0 and <= 40 && char.IsAsciiLetterLower(text[0]) && text.All(c => char.IsAsciiLetterLower(c) || char.IsAsciiDigit(c) || c == '-');

    private static ImmutableArray<Hazard> Hazards(YamlFields fields)
    {
        fields.List("hazards", required: true);
        return [.. Entries(fields, "hazards").Select(entry => Taken(entry, new Hazard(entry.Text("what") ?? "", entry.Text("do") ?? "")))];
    }

    private static NeededResult Need(YamlFields entry) =>
        Taken(entry, new NeededResult(entry.Text("procedure") ?? "", entry.Word("kind", NeedKinds, true, required: true), entry.Text("because") ?? "") { At = (entry.Node.Line, entry.Node.Column) });

    private static Dictionary<string, bool> NeedKinds { get; } = new() { ["must"] = true, ["advice"] = false };

    private static InstrumentNeed InstrumentNeed(YamlFields entry)
    {
        var kinds = ImmutableArray.CreateBuilder<InstrumentKind>();
        foreach (var node in entry.List("kinds", required: true))
        {
            var word = node is YamlNode.Leaf leaf ? leaf.Value : "";
            if (InstrumentCatalogue.Kinds.TryGetValue(word, out var kind)) kinds.Add(kind);
            else
            {
                entry.Report(node, $"'{PlainText.Of(word)}' is no kind of instrument",
                    "Use one of: " + string.Join(", ", InstrumentCatalogue.Kinds.Keys) + Spelling.DidYouMean(word, InstrumentCatalogue.Kinds.Keys));
            }
        }

        return Taken(entry, new InstrumentNeed(entry.Text("for") ?? "", kinds.ToImmutable(), entry.Text("orElse") ?? "") { WayMm = entry.Number("wayMm", 0, 1000) });
    }

    private static IEnumerable<YamlFields> Entries(YamlFields fields, string key) =>
        fields.List(key).Select(node => fields.Fields(node, $"each entry of '{key}'")).OfType<YamlFields>();

    private static T Taken<T>(YamlFields entry, T value)
    {
        entry.Done();
        return value;
    }
}
