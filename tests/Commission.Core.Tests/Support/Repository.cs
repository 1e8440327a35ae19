using System.Runtime.CompilerServices;

namespace Commission.Tests;

/// <summary>The checkout that tests and proof run in.</summary>
internal static class Repository
{
    /// <summary>The folder that holds <c>Commission.sln</c>.</summary>
    public static string Root { get; } = Find(AppContext.BaseDirectory) ?? Find(Here()) ?? throw new DirectoryNotFoundException("No folder above the tests holds Commission.sln.");

    /// <summary>A file or folder of the checkout.</summary>
    public static string At(params string[] path) => Path.Combine([Root, .. path]);

    /// <summary>A text of the checkout, its lines ended as everywhere.</summary>
    public static string Text(params string[] path) => File.ReadAllText(At(path)).ReplaceLineEndings("\n");

    /// <summary>All C# files under a folder of the checkout, without what the build generates.</summary>
    public static IEnumerable<string> Sources(params string[] folder) =>
        Directory.EnumerateFiles(At(folder), "*.cs", SearchOption.AllDirectories)
            .Where(file => !Generated(Path.GetRelativePath(Root, file)))
            .Order(StringComparer.Ordinal);

    private static bool Generated(string relative) =>
        relative.Split(Path.DirectorySeparatorChar).Any(part => part is "obj" or "bin");

    private static string? Find(string? from)
    {
        for (var folder = from; folder is not null; folder = Path.GetDirectoryName(folder))
        {
            if (File.Exists(Path.Combine(folder, "Commission.sln")))
                return folder;
        }

        return null;
    }

    private static string? Here([CallerFilePath] string file = "") => Path.GetDirectoryName(file);
}
