using System.Runtime.CompilerServices;

namespace Commission.Workshop.Tests.Screens;

/// <summary>The exact screens of the interaction design, kept beside the tests.</summary>
internal static class Wireframe
{
    public static string Text(string name, [CallerFilePath] string here = "") =>
        File.ReadAllText(Path.Combine(Path.GetDirectoryName(here)!, "Wireframes", name + ".txt")).ReplaceLineEndings("\n");

    public static string[] Rows(string name) => Text(name).TrimEnd('\n').Split('\n');
}
