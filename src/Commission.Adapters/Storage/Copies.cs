using System.Globalization;
using Commission.Workshop.Ports;

namespace Commission.Adapters.Storage;

/// <summary>What a store remembers of its copies. Where a copy lies is not kept: the names of sticks and folders are nobody's business.</summary>
internal static class Copies
{
    private const string Elsewhere = "copies";
    private const string Name = "yyyyMMdd-HHmmss";

    /// <summary>Notes a copy made to another place.</summary>
    internal static void Remember(string folder, DateTimeOffset at, long last)
    {
        var medium = new FolderMedium(folder);
        var torn = medium.Files().Contains(Elsewhere) && medium.ReadAll(Elsewhere) is [.., not (byte)'\n'];
        using (var file = medium.Append(Elsewhere))
        {
            // A line that a power cut left without its end stands for itself.
            if (torn)
                file.Write("\n"u8);
            file.Write(System.Text.Encoding.ASCII.GetBytes(string.Create(CultureInfo.InvariantCulture, $"{at:O} {last}\n")));
            file.Flush();
        }

        medium.Flush();
    }

    /// <summary>The last copy made to another place; null where there is none, or nothing of it can be read.</summary>
    internal static CopyElsewhere? LastElsewhere(string folder)
    {
        var file = Path.Combine(folder, Elsewhere);
        return folder.Length == 0 || !File.Exists(file) ? null : File.ReadAllText(file).Split('\n')[..^1].Select(Read).OfType<CopyElsewhere>().LastOrDefault();
    }

    /// <summary>Whether a backup was made within a span before now. One that lies after now, where the clock was set back, is none.</summary>
    internal static bool MadeWithin(string folder, DateTimeOffset now, TimeSpan span)
    {
        var backups = Path.Combine(folder, "backups");
        return Directory.Exists(backups) && Directory.GetDirectories(backups).Any(copy =>
            DateTimeOffset.TryParseExact(Path.GetFileName(copy), Name, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var at)
            && now >= at && now - at < span);
    }

    private static CopyElsewhere? Read(string line)
    {
        var words = line.Split(' ');
        return words.Length == 2
            && DateTimeOffset.TryParseExact(words[0], "O", CultureInfo.InvariantCulture, DateTimeStyles.None, out var at)
            && long.TryParse(words[1], NumberStyles.None, CultureInfo.InvariantCulture, out var last)
            ? new CopyElsewhere(at, last)
            : null;
    }
}
