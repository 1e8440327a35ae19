using System.Text.Json;
using Commission.Core.Machines.Dialects;
using Commission.Tests;

namespace Commission.Core.Tests.Machines.Dialects;

/// <summary>The schema that editors use names the same keys as the reader: the reader is asked with a key that nobody knows, and lists its own.</summary>
public class DialectSchemaTests
{
    private static JsonElement Schema { get; } =
        JsonDocument.Parse(Repository.Text("shared", "schemas", "dialect.json")).RootElement;

    private static string[] Sorted(IEnumerable<string> keys) => [.. keys.Order(StringComparer.Ordinal)];

    private static string[] Known(string text)
    {
        var problems = DialectReader.Read("d.yaml", text).Match(_ => [], problems => problems);
        var remedy = problems.First(problem => problem.What.StartsWith("'nobody-knows'", StringComparison.Ordinal)).Remedy;
        return Sorted(remedy["Known here: ".Length..].Split(" (did")[0].Split(", "));
    }

    private static string[] Keys(JsonElement schema) => Sorted(schema.GetProperty("properties").EnumerateObject().Select(property => property.Name));

    private static JsonElement At(params string[] path) => path.Aggregate(Schema, (schema, name) => schema.GetProperty("properties").GetProperty(name));

    [Fact]
    public void The_top_level_keys_are_those_of_the_reader() => Assert.Equal(Keys(Schema), Known("nobody-knows: 1\n"));

    [Theory]
    [InlineData("answers")]
    [InlineData("status")]
    [InlineData("stop")]
    [InlineData("motion")]
    [InlineData("settings")]
    public void The_keys_of_each_part_are_those_of_the_reader(string part) => Assert.Equal(Keys(At(part)), Known($"{part}:\n  nobody-knows: 1\n"));

    [Fact]
    public void The_keys_of_a_setting_and_of_a_lock_are_those_of_the_reader()
    {
        Assert.Equal(Keys(At("settings", "known").GetProperty("items")), Known("settings:\n  known:\n    - nobody-knows: 1\n"));
        Assert.Equal(Keys(At("locks").GetProperty("items")), Known("locks:\n  - nobody-knows: 1\n"));
    }

    [Fact]
    public void The_words_of_each_choice_are_those_of_the_reader()
    {
        Assert.Equal(["bracketed", "letters"], Words(At("status", "form")));
        Assert.Equal(["held", "locked", "moving", "resting", "unknown"], Words(At("status", "words").GetProperty("additionalProperties")));
        Assert.Equal(["byte", "line"], Words(At("stop", "how")));
        Assert.Equal(["held", "released", "unknown"], Words(At("stop", "drives")));
        // Each of them reads without a problem at that place.
        foreach (var word in Words(At("stop", "drives")))
            Assert.DoesNotContain("'drives'", Told($"stop:\n  drives: {word}\n"));
        foreach (var word in Words(At("status", "words").GetProperty("additionalProperties")))
            Assert.DoesNotContain("'Idle'", Told($"status:\n  words:\n    Idle: {word}\n"));
    }

    private static string[] Words(JsonElement choice) => Sorted(choice.GetProperty("enum").EnumerateArray().Select(word => word.GetString()!));

    private static string Told(string text) => string.Join('\n', DialectReader.Read("d.yaml", text).Match(_ => [], problems => problems).Select(problem => problem.What));
}
