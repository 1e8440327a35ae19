using System.Collections.Immutable;
using Commission.Core.Procedures;

namespace Commission.Tests;

/// <summary>The procedures of the checkout, as their files have them.</summary>
internal static class ShippedProcedures
{
    public static ImmutableArray<string> Files { get; } = [.. Directory.GetFiles(Repository.At("procedures"), "*.yaml").Order(StringComparer.Ordinal)];

    public static IEnumerable<string> Ids => Files.Select(file => Path.GetFileNameWithoutExtension(file)!);

    public static Procedure Read(string id) => ProcedureReader.Read(id + ".yaml", File.ReadAllText(Repository.At("procedures", id + ".yaml"))).Require();
}
