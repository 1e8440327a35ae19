using System.Collections.Immutable;

namespace Commission.Core.Machines.Dialects;

/// <summary>The dialect files that are carried in the program.</summary>
public static class ShippedDialects
{
    /// <summary>Their names.</summary>
    public static ImmutableArray<string> Names { get; } = ["numbered-settings", "letter-words"];

    /// <summary>A shipped dialect by name; null where there is none of that name.</summary>
    public static Dialect? Find(string name) => Names.Contains(name) ? DialectReader.Read(name + ".yaml", Text(name)).Require() : null;

    /// <summary>The text of a shipped file.</summary>
    public static string Text(string name) => Carried.Text($"dialects/{name}.yaml");
}
