using System.Text.Json;
using Commission.Core.Procedures;
using Commission.Tests;

namespace Commission.Core.Tests.Procedures;

/// <summary>The schemas that editors use name the same keys as the readers: the readers are asked with a key that nobody knows, and list theirs.</summary>
public sealed class SchemaTests
{
    private static JsonElement Schema(string name) =>
        JsonDocument.Parse(Repository.Text("shared", "schemas", name + ".schema.json")).RootElement;

    private static string[] Keys(JsonElement schema) => [.. schema.GetProperty("properties").EnumerateObject().Select(property => property.Name).Order(StringComparer.Ordinal)];

    private static string[] Known(IEnumerable<Problem> problems) =>
        [.. problems.First(problem => problem.What.StartsWith("'nobody-knows'", StringComparison.Ordinal)).Remedy["Known here: ".Length..].Split(" (did")[0].Split(", ").Order(StringComparer.Ordinal)];

    private static System.Collections.Immutable.ImmutableArray<Problem> Procedure(string text) => ProcedureReader.Read("p.yaml", text).Match(_ => [], problems => problems);

    [Fact]
    public void The_top_level_keys_are_those_of_the_reader() =>
        Assert.Equal(Keys(Schema("procedure")), Known(Procedure("nobody-knows: 1\n")));

    [Fact]
    public void The_keys_of_a_step_are_those_of_the_reader() =>
        Assert.Equal(Keys(Schema("procedure").GetProperty("$defs").GetProperty("step")), Known(Procedure("steps:\n  - nobody-knows: 1\n")));

    public static TheoryData<string> KindsOfStep { get; } = ["check", "move", "read", "evaluate", "change", "wait", "repeat", "ladder", "power", "set"];

    [Theory]
    [MemberData(nameof(KindsOfStep))]
    public void The_keys_of_each_kind_of_step_are_those_of_the_reader(string kind) =>
        Assert.Equal(
            Keys(Schema("procedure").GetProperty("$defs").GetProperty("step").GetProperty("properties").GetProperty(kind)),
            Known(Procedure($"steps:\n  - {kind}:\n      nobody-knows: 1\n")));

    // The reader is asked with a word that nobody knows, and lists its own.
    [Theory]
    [InlineData("check/answer", "  - check:\n      ask: a\n      answer: nobody\n")]
    [InlineData("power/drives", "  - power:\n      drives: nobody\n      text: a\n")]
    [InlineData("read/grid/kind", "  - read:\n      grid:\n        kind: nobody\n      ask: a\n      group: g\n")]
    [InlineData("read/grid/window", "  - read:\n      grid:\n        kind: axis\n        axis: X\n        window: nobody\n      ask: a\n      group: g\n")]
    [InlineData("evaluate/axis", "  - evaluate:\n      kind: axis-scale\n      readings: [g]\n      axis: nobody\n")]
    [InlineData("set/axis", "  - set: {fact: drive, axis: nobody, ask: a}\n")]
    public void Words_to_choose_from_are_those_of_the_reader(string path, string step)
    {
        var node = Schema("procedure").GetProperty("$defs").GetProperty("step");
        foreach (var key in path.Split('/'))
            node = node.GetProperty("properties").GetProperty(key);
        var remedies = Procedure("steps:\n" + step).Select(problem => problem.Remedy).Where(remedy => remedy.StartsWith("Use one of: ", StringComparison.Ordinal));
        var known = remedies.Single()["Use one of: ".Length..].Split(" (did")[0].Split(", ").Order(StringComparer.Ordinal);
        Assert.Equal(known, node.GetProperty("enum").EnumerateArray().Select(word => word.GetString()!).Order(StringComparer.Ordinal));
    }

    [Theory]
    [MemberData(nameof(KindsOfStep))]
    public void The_authoring_guide_has_a_table_with_each_key_of_each_kind_of_step(string kind)
    {
        var guide = Repository.Text("shared", "handbook", "authoring-procedures.md");
        var from = guide.IndexOf($"### `{kind}`", StringComparison.Ordinal);
        Assert.True(from >= 0, $"no section on '{kind}'");
        var end = guide.IndexOf("\n#", from + 1, StringComparison.Ordinal);
        var section = guide[from..end];
        Assert.Contains("| key | holds |", section, StringComparison.Ordinal);
        Assert.All(Known(Procedure($"steps:\n  - {kind}:\n      nobody-knows: 1\n")), key => Assert.Contains($"`{key}`", section, StringComparison.Ordinal));
    }

    [Fact]
    public void The_keys_of_a_machine_and_of_an_axis_are_those_of_the_reader()
    {
        var problems = MachineReader.Read("m.yaml", "nobody-knows: 1\n").Match(_ => [], all => all);
        Assert.Equal(Keys(Schema("machine")), Known(problems));
        var axis = MachineReader.Read("m.yaml", "axes:\n  X:\n    nobody-knows: 1\n").Match(_ => [], all => all);
        Assert.Equal(Keys(Schema("machine").GetProperty("$defs").GetProperty("axis")), Known(axis));
    }
}
