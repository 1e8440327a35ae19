using Commission.Core.Procedures;
using Commission.Tests;

namespace Commission.App.Tests.Screens;

/// <summary>A practice store in memory with the shipped procedures.</summary>
internal static class PracticeStore
{
    public static ScreenOptions Options(IJournal journal, ulong seed = 0) => new()
    {
        Journal = journal, Seed = seed, Procedures = Shipped("axis-scale"), Hash = procedure => procedure.Id, Operator = "M",
    };

    public static MemoryJournal Journal(TimeProvider clock) => new(StoreNature.Practice, "prac", "test", clock);

    public static IReadOnlyList<Procedure> Shipped(params IEnumerable<string> ids) => [.. ids.Select(ShippedProcedures.Read)];

    public static IReadOnlyList<Procedure> All() => Shipped(ShippedProcedures.Ids);
}
