namespace Commission.Core.Tests.Characteristics;

/// <summary>The published data in shared/reference; fails, and does not skip, where they are absent.</summary>
internal static class Reference
{
    public static string Folder { get; } = Find();

    /// <summary>Rows place, direction, deviation of an ISO 230-2 file, whatever its order of columns.</summary>
    public static IEnumerable<IEnumerable<object>> IsoRows(string path)
    {
        var lines = File.ReadAllLines(path).Where(line => line.Length > 0).Select(line => line.Split(',')).ToArray();
        var header = lines[0];
        int place = Array.FindIndex(header, h => h.Contains("target", StringComparison.OrdinalIgnoreCase));
        int direction = Array.FindIndex(header, h => h.Contains("dir", StringComparison.OrdinalIgnoreCase) || h.Contains("approach", StringComparison.OrdinalIgnoreCase));
        int deviation = Array.FindIndex(header, h => h.Contains("dev", StringComparison.OrdinalIgnoreCase));
        foreach (var line in lines.Skip(1))
            yield return [line[place], line[direction] is "up" or "+" ? "+" : "-", line[deviation]];
    }

    private static string Find()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            var candidate = Path.Combine(folder.FullName, "shared", "reference");
            if (Directory.Exists(candidate))
                return candidate;
        }
        throw new DirectoryNotFoundException("shared/reference");
    }
}
