using System.Runtime.CompilerServices;

namespace Commission.Workshop.Tests.Screens;

/// <summary>The exact screens of the interaction design, kept beside the tests.</summary>
internal static class Wireframe
{
    public static string Text(string name) => File.ReadAllText(Path.Combine(Folder(), name + ".txt")).ReplaceLineEndings("\n");

    public static string[] Rows(string name) => Text(name).TrimEnd('\n').Split('\n');

    private static string Folder([CallerFilePath] string here = "") => Path.Combine(Path.GetDirectoryName(here)!, "Wireframes");
}
