using System.Text;

namespace Commission.Core;

/// <summary>Data carried in the program: published sets, the catalogue, dialects, limits, the handbook.</summary>
internal static class Carried
{
    /// <summary>The names of all that lies in a folder, without it, in the order of the alphabet.</summary>
    /// <param name="folder">The folder, with its slash at the end.</param>
    public static IEnumerable<string> Names(string folder) => typeof(Carried).Assembly.GetManifestResourceNames()
        .Where(name => name.StartsWith(folder, StringComparison.Ordinal)).Select(name => name[folder.Length..]).Order(StringComparer.Ordinal);

    /// <summary>A text.</summary>
    /// <param name="name">Folder and name.</param>
    /// <exception cref="InvalidOperationException">The program was built without it.</exception>
    public static string Text(string name)
    {
        using var stream = typeof(Carried).Assembly.GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"The program was built without {name}.");
        using var reader = new StreamReader(stream, Encoding.UTF8);
        return reader.ReadToEnd();
    }
}
