using System.Collections.Immutable;

namespace Commission.Core.History;

/// <summary>
/// The names behind the handles: lines <c>handle: name</c> in a file that anybody may edit or delete. It stands outside the chain,
/// so that a name can be taken away again; the journal holds handles alone.
/// </summary>
public static class NamesFile
{
    /// <summary>Names by handle.</summary>
    /// <param name="text">Text of the file; blank lines and lines with <c>#</c> at their head are passed over.</param>
    /// <param name="file">Name of the file, for problems.</param>
    /// <returns>The names, or every line that is none.</returns>
    public static Outcome<ImmutableSortedDictionary<string, string>> Read(string text, string file)
    {
        var names = ImmutableSortedDictionary.CreateBuilder<string, string>(StringComparer.Ordinal);
        var problems = ImmutableArray.CreateBuilder<Problem>();
        var lines = text.Split('\n');
        for (var at = 0; at < lines.Length; at++)
        {
            var line = lines[at].Trim();
            if (line.Length == 0 || line[0] == '#')
                continue;
            var colon = line.IndexOf(':');
            var (handle, name) = colon < 0 ? ("", "") : (line[..colon].Trim(), line[(colon + 1)..].Trim());
            if (handle.Length == 0 || name.Length == 0)
                problems.Add(new Problem("the line is no handle with its name", "Write it as handle: name") { File = file, Line = at + 1, Column = 1 });
            else if (!names.TryAdd(handle, name))
                problems.Add(new Problem($"the handle '{handle}' has two names", "Keep one of the lines") { File = file, Line = at + 1, Column = 1 });
        }

        return problems.Count == 0 ? names.ToImmutable() : new Outcome<ImmutableSortedDictionary<string, string>>.Bad(problems.ToImmutable());
    }
}
