using System.Runtime.CompilerServices;
using Commission.Core.Procedures;

namespace Commission.App.Tests.Screens;

/// <summary>A practice store in memory with the shipped procedures.</summary>
internal static class PracticeStore
{
    public static ScreenOptions Options(IJournal journal, ulong seed = 0) => new()
    {
        Journal = journal, Seed = seed, Procedures = Shipped("axis-scale"), Hash = procedure => procedure.Id, Operator = "M",
    };

    public static MemoryJournal Journal(TimeProvider clock) => new(StoreNature.Practice, "prac", "test", clock);

    public static IReadOnlyList<Procedure> Shipped(params string[] ids) =>
        [.. ids.Select(id => Path.Combine(Folder(), id + ".yaml")).Select(file => ProcedureReader.Read(file, File.ReadAllText(file)).Require())];

    public static IReadOnlyList<Procedure> All() => Shipped([.. Directory.GetFiles(Folder(), "*.yaml").Order(StringComparer.Ordinal).Select(file => Path.GetFileNameWithoutExtension(file)!)]);

    private static string Folder([CallerFilePath] string here = "")
    {
        for (var at = Path.GetDirectoryName(here); at is not null; at = Path.GetDirectoryName(at))
        {
            if (File.Exists(Path.Combine(at, "Commission.sln")))
                return Path.Combine(at, "procedures");
        }

        throw new InvalidOperationException("The tests do not lie inside the project.");
    }
}
