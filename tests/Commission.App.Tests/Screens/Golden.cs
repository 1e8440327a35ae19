using System.Runtime.CompilerServices;
using Xunit;

namespace Commission.App.Tests.Screens;

/// <summary>Screens kept as files beside the tests. UPDATE_GOLDEN=1 writes them anew; what has changed is then read in the difference.</summary>
internal static class Golden
{
    private static bool Update => Environment.GetEnvironmentVariable("UPDATE_GOLDEN") == "1";

    /// <summary>The screen is the one that was kept.</summary>
    public static void Same(string name, string screen)
    {
        var file = Path.Combine(Folder(), name + ".txt");
        var shown = string.Join('\n', screen.ReplaceLineEndings("\n").Split('\n').Select(row => row.TrimEnd())).TrimEnd('\n') + "\n";
        if (Update)
        {
            Directory.CreateDirectory(Folder());
            File.WriteAllText(file, shown);
            return;
        }

        Assert.True(File.Exists(file), $"{name} was never kept: run once with UPDATE_GOLDEN=1");
        var kept = File.ReadAllText(file).ReplaceLineEndings("\n");
        Assert.True(kept == shown, $"{name} has changed. Now:\n{shown}\nKept:\n{kept}");
    }

    private static string Folder([CallerFilePath] string here = "") => Path.Combine(Path.GetDirectoryName(here)!, "..", "Golden");
}
