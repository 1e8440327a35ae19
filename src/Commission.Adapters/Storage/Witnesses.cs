using System.Globalization;

namespace Commission.Adapters.Storage;

/// <summary>How far the journal reached when somebody looked at it.</summary>
/// <param name="Who">Who knows, in words.</param>
/// <param name="Last">Sequence of the last entry then.</param>
/// <param name="Tip">Hash of that entry.</param>
internal sealed record Witness(string Who, long Last, string Tip);

/// <summary>
/// What stands beside the journal and remembers how far it reached: the newest backup and the last report (the index is asked when it
/// is opened). Where one of them knows more than the journal, nothing is written until a person has looked.
/// </summary>
internal static class Witnesses
{
    private const string Reported = "reported";
    private const string Mark = "copied";

    // A record that was cut off says nothing.
    private const int HashDigits = 64;

    /// <summary>Contradictions in sentences; empty where no witness knows more than the journal, or something else.</summary>
    /// <param name="folder">Folder of the store; empty where it has none.</param>
    /// <param name="last">Sequence of the journal's last entry.</param>
    /// <param name="hashOf">Hash of an entry of the journal; null where it is not there or damaged.</param>
    internal static IEnumerable<string> Contradictions(string folder, long last, Func<long, string?> hashOf) => folder.Length == 0
        ? []
        : new[] { NewestBackup(folder), LastReport(folder) }.OfType<Witness>().Select(witness => Contradiction(witness, last, hashOf)).OfType<string>();

    /// <summary>The backup that knows most; null where there is none.</summary>
    internal static Witness? NewestBackup(string folder)
    {
        var backups = Path.Combine(folder, "backups");
        return !Directory.Exists(backups)
            ? null
            : Directory.GetDirectories(backups).Order(StringComparer.Ordinal)
                .Select(copy => Read($"the backup '{copy}'", Path.Combine(copy, Mark)))
                .OfType<Witness>().MaxBy(witness => witness.Last);
    }

    /// <summary>Leaves a record of a report beside the store. Where the folder cannot be written to there is one witness less.</summary>
    internal static void Remember(string folder, long last, string tip)
    {
        try
        {
            Disk.Replace(Path.Combine(folder, Reported), part => part.Write(System.Text.Encoding.ASCII.GetBytes(string.Create(CultureInfo.InvariantCulture, $"{last} {tip}\n"))));
            Disk.FlushFolder(folder);
        }
        catch (Exception refused) when (refused is IOException or UnauthorizedAccessException)
        {
            // A store on a stick that is write-protected may be reported on all the same.
        }
    }

    private static Witness? LastReport(string folder) => Read("the last report", Path.Combine(folder, Reported));

    private static string? Contradiction(Witness witness, long last, Func<long, string?> hashOf)
    {
        if (witness.Last > last)
            return string.Create(CultureInfo.InvariantCulture, $"{witness.Who} knows {witness.Last} entries and the journal {last}: entries are missing from its end");
        return hashOf(witness.Last) is { } hash && hash != witness.Tip
            ? string.Create(CultureInfo.InvariantCulture, $"entry {witness.Last} is not the one {witness.Who} knows: the journal was replaced")
            : null;
    }

    // A witness that cannot be read says nothing; it is no reason to stop.
    private static Witness? Read(string who, string file)
    {
        try
        {
            if (!File.Exists(file))
                return null;
            var words = File.ReadAllText(file).Split([' ', '\n'], StringSplitOptions.RemoveEmptyEntries);
            return words.Length >= 2 && words[1].Length == HashDigits && long.TryParse(words[0], NumberStyles.None, CultureInfo.InvariantCulture, out var last) ? new Witness(who, last, words[1]) : null;
        }
        catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }
}
