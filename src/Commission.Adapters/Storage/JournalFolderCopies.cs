using System.Globalization;
using Commission.Core;
using Commission.Core.History;
using Commission.Workshop.Ports;

namespace Commission.Adapters.Storage;

public sealed partial class JournalFolder
{
    private const string Backups = "backups";
    private const string Mark = "copied";

    /// <inheritdoc/>
    public StoreCheck Check()
    {
        lock (gate)
        {
            var own = chain.Walk();
            var faults = own.Faults.ToList();
            var entries = own.Entries;
            foreach (var store in ForeignStores)
            {
                using var foreign = OpenForeign(store, write: false);
                var walk = foreign.Walk();
                faults.AddRange(walk.Faults);
                entries += walk.Entries;
            }

            return new StoreCheck(entries, own.Last, own.Tip, faults, NewestSoundBackup());
        }
    }

    /// <inheritdoc/>
    public Outcome<BackupMade> BackUp(string? folder)
    {
        lock (gate)
        {
            var name = opening.Clock.GetUtcNow().ToString("yyyyMMdd-HHmmss", CultureInfo.InvariantCulture);
            var place = folder is null ? Path.Combine(Folder, Backups, name) : Path.Combine(Path.GetFullPath(folder), $"{Store}-{name}");
            if (Directory.Exists(place))
                return new Problem($"there is a copy of this very second already, '{place}'", "Wait a moment and copy again");
            try
            {
                var made = Copy(place);
                if (made is Outcome<BackupMade>.Good && folder is null)
                    Thin();
                return made;
            }
            catch (Exception failed) when (failed is IOException or UnauthorizedAccessException)
            {
                return new Problem($"the copy could not be made: {failed.Message.TrimEnd('.')}", "Free some space there or name another folder") { File = place };
            }
        }
    }

    /// <summary>Copies that know more than the journal does, each in a sentence; empty where none does.</summary>
    /// <param name="folder">Folder of the store.</param>
    /// <param name="last">Sequence of the journal's last entry.</param>
    private static IEnumerable<string> Ahead(string folder, long last)
    {
        var backups = Path.Combine(folder, Backups);
        if (folder.Length == 0 || !Directory.Exists(backups))
            yield break;
        var newest = Directory.GetDirectories(backups).Order(StringComparer.Ordinal).LastOrDefault(copy => File.Exists(Path.Combine(copy, Mark)));
        if (newest is not null && long.TryParse(File.ReadAllText(Path.Combine(newest, Mark)).Split(' ')[0], NumberStyles.None, CultureInfo.InvariantCulture, out var known) && known > last)
            yield return string.Create(CultureInfo.InvariantCulture, $"the backup '{newest}' knows {known} entries and the journal {last}: entries are missing from its end");
    }

    // Copied under another name first: a copy that was broken off must not pass for one.
    private Outcome<BackupMade> Copy(string place)
    {
        var part = place + ".part";
        if (Directory.Exists(part))
            Directory.Delete(part, recursive: true);
        foreach (var name in (string[])["journal", "chains", .. ForeignStores.Select(store => "chain-" + store)])
            CopyFolder(mediumOf(name), new FolderMedium(Path.Combine(part, name)));
        using var copied = JournalChain.Open(new FolderMedium(Path.Combine(part, "journal")), write: false, opening.SegmentBytes);
        var (source, walk) = (chain.Walk(), copied.Walk());
        if (walk.Tip != source.Tip || walk.Entries != source.Entries || walk.Faults.Count != source.Faults.Count)
            return new Problem("the copy does not verify", "Use another disk or stick") { File = part };
        var marked = new FolderMedium(part);
        using (var mark = marked.Append(Mark))
        {
            mark.Write(System.Text.Encoding.ASCII.GetBytes(string.Create(CultureInfo.InvariantCulture, $"{walk.Last} {walk.Tip} {(walk.Faults.Count == 0 ? "sound" : "damaged")}\n")));
            mark.Flush();
        }

        marked.Flush();
        Directory.Move(part, place);
        Disk.FlushFolder(Path.GetDirectoryName(place)!);
        return new BackupMade(place, walk.Entries, walk.Tip);
    }

    private static void CopyFolder(IMedium from, FolderMedium to)
    {
        to.Make();
        foreach (var file in from.Files())
        {
            using var copy = to.Append(file);
            copy.Write(from.ReadAll(file));
            copy.Flush();
        }

        to.Flush();
    }

    private string? NewestSoundBackup()
    {
        var backups = Path.Combine(Folder, Backups);
        return Folder.Length == 0 || !Directory.Exists(backups)
            ? null
            : Directory.GetDirectories(backups).OrderDescending(StringComparer.Ordinal).FirstOrDefault(IsSound);
    }

    private static bool IsSound(string copy)
    {
        if (!File.Exists(Path.Combine(copy, Mark)))
            return false;
        using var chain = JournalChain.Open(new FolderMedium(Path.Combine(copy, "journal")), write: false, long.MaxValue);
        return chain.Walk().Faults.Count == 0;
    }

    private void Thin()
    {
        var backups = Path.Combine(Folder, Backups);
        var names = Directory.GetDirectories(backups).Select(path => Path.GetFileName(path)).ToList();
        foreach (var name in names.Except(Thinning.Keep(names)))
            Directory.Delete(Path.Combine(backups, name), recursive: true);
    }
}
