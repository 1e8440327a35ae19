using System.Globalization;
using Commission.Core;
using Commission.Workshop.Ports;

namespace Commission.Adapters.Storage;

public sealed partial class JournalFolder
{
    private const string Backups = "backups";
    private const string Mark = "copied";

    private Task copying = Task.CompletedTask;
    private volatile IReadOnlyList<Problem> copyTroubles = [];

    // Requests that follow on each other are one session of work.
    private static readonly TimeSpan BetweenBackups = TimeSpan.FromHours(1);

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

            faults.AddRange(Witnesses.Contradictions(Folder, own.Last, HashOf).Select(Contradicted));
            return new StoreCheck(entries, own.Last, own.Tip, faults, NewestSoundBackup());
        }
    }

    /// <inheritdoc/>
    public Outcome<BackupMade> BackUp(string? folder)
    {
        copying.Wait();
        lock (gate)
            return BackUp(folder, walk => walk.Last == chain.Last && walk.Tip == chain.Tip);
    }

    private Outcome<BackupMade> BackUp(string? folder, Func<ChainWalk, bool> whole)
    {
        var name = opening.Clock.GetUtcNow().ToString("yyyyMMdd-HHmmss", CultureInfo.InvariantCulture);
        var place = folder is null ? Path.Combine(Folder, Backups, name) : Path.Combine(Path.GetFullPath(folder), $"{Store}-{name}");
        if (Directory.Exists(place))
            return new Problem($"there is a copy of this very second already, '{place}'", "Wait a moment and copy again");
        try
        {
            var made = Copy(place, whole);
            if (made is Outcome<BackupMade>.Good && folder is null)
                Thin();
            if (made is Outcome<BackupMade>.Good && folder is not null && Folder.Length > 0)
                RememberCopy();
            return made;
        }
        catch (Exception failed) when (failed is IOException or UnauthorizedAccessException)
        {
            return new Problem($"the copy could not be made: {failed.Message.TrimEnd('.')}", "Free some space there or name another folder") { File = place };
        }
    }

    // The copy is made and holds; where that cannot be noted here, the age that the bench tells is only too great.
    private void RememberCopy()
    {
        try
        {
            Copies.Remember(Folder, opening.Clock.GetLocalNow(), chain.Last);
        }
        catch (Exception failed) when (failed is IOException or UnauthorizedAccessException)
        {
            copyTroubles = [new Problem($"the copy was made, but that could not be noted beside the journal: {failed.Message.TrimEnd('.')}", "Free some space; the bench tells an older copy meanwhile") { File = Folder }];
        }
    }

    /// <inheritdoc/>
    public CopyAge CopyAge
    {
        get
        {
            var copy = Copies.LastElsewhere(Folder);
            return new CopyAge(copy, Last.Sequence - (copy?.Last ?? 0));
        }
    }

    /// <inheritdoc/>
    public void RememberReport() => Witnesses.Remember(Folder, Last.Sequence, Last.Tip);

    /// <inheritdoc/>
    public IReadOnlyList<Problem>? VerifyPart(int part) => chain.WalkClosed(part);

    /// <summary>Makes the copy that stands before a session that writes: unless there is nothing new, or the last one was made within the hour.</summary>
    internal void BackUpBeforeWriting()
    {
        if (ReadOnlyReason is not null || chain.Last < 2)
            return;
        var newest = Witnesses.NewestBackup(Folder);
        if (newest?.Last == chain.Last || Copies.MadeWithin(Folder, opening.Clock.GetUtcNow(), BetweenBackups))
            return;
        if (Directory.GetFiles(Path.Combine(Folder, "journal")).Sum(file => new FileInfo(file).Length) < opening.CopyMeanwhileBytes)
            Trouble(BackUp(null));
        else
            copying = CopyMeanwhile(chain.Last);
    }

    // Closed parts never change and the open one only grows: a copy of whatever is there holds at least what was there when it was begun.
    private Task CopyMeanwhile(long atLeast) => Task.Run(() =>
    {
        try
        {
            Trouble(BackUp(null, walk => walk.Last >= atLeast));
        }
        catch (Exception failed)
        {
            // Whatever it is: it is told, and neither the work nor the closing of the store ends with it.
            copyTroubles = [new Problem($"the copy could not be made: {failed.Message.TrimEnd('.')}", "Copy the store by hand, elsewhere") { File = Folder }];
        }
    });

    private void Trouble(Outcome<BackupMade> made)
    {
        if (made is Outcome<BackupMade>.Bad bad)
            copyTroubles = [.. bad.Problems];
    }

    // Copied under another name first: a copy that was broken off must not pass for one.
    private Outcome<BackupMade> Copy(string place, Func<ChainWalk, bool> whole)
    {
        var part = place + ".part";
        BrokenOff(Path.GetDirectoryName(place)!);
        foreach (var name in (string[])["journal", "chains", .. ForeignStores.Select(store => "chain-" + store)])
            CopyFolder(mediumOf(name), new FolderMedium(Path.Combine(part, name)));
        using var copied = JournalChain.Open(new FolderMedium(Path.Combine(part, "journal")), write: false, opening.SegmentBytes);
        var walk = copied.Walk();
        if (walk.Faults.Count == 0 ? !whole(walk) : !IsLikeSource(walk))
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

    // Copies of this store that were broken off half way; nobody else writes to it.
    private void BrokenOff(string place)
    {
        if (!Directory.Exists(place))
            return;
        foreach (var left in Directory.GetDirectories(place, place == Path.Combine(Folder, Backups) ? "*.part" : $"{Store}-*.part"))
            Directory.Delete(left, recursive: true);
    }

    // Damage in the journal is in the copy as well; damage that is only in the copy is the copy's.
    private bool IsLikeSource(ChainWalk walk)
    {
        lock (gate)
        {
            var source = chain.Walk();
            return walk.Tip == source.Tip && walk.Entries == source.Entries && walk.Faults.Count == source.Faults.Count;
        }
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
