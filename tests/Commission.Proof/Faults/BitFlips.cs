using Commission.Adapters.Storage;
using Commission.Core.History;
using Commission.Practice.Draws;
using Commission.Proof.Durability;

namespace Commission.Proof.Faults;

/// <summary>Flips one bit of a journal on disk, as failing memory or a failing disk does, and opens the store again.</summary>
internal static class BitFlips
{
    private const int Readings = 40;

    /// <summary>Number of flips after which a reading was gone or different and the check of the store said nothing.</summary>
    public static int Silent(ulong seed, int flips)
    {
        using var folder = new TemporaryFolder();
        var whole = folder.At("whole");
        using (var journal = Open(whole))
        {
            for (var recorded = 1; recorded <= Readings; recorded++)
                journal.Append(KillRun.Reading(recorded)).Require();
        }

        var source = new DrawSource(seed).For("flips");
        return Enumerable.Range(0, flips).Count(_ => IsSilent(whole, folder.At("flipped"), source));
    }

    private static bool IsSilent(string whole, string copy, DrawSource source)
    {
        if (Directory.Exists(copy))
            Directory.Delete(copy, recursive: true);
        foreach (var file in Directory.GetFiles(whole, "*", SearchOption.AllDirectories))
        {
            var to = Path.Combine(copy, Path.GetRelativePath(whole, file));
            Directory.CreateDirectory(Path.GetDirectoryName(to)!);
            File.Copy(file, to);
        }

        var parts = Directory.GetFiles(copy, "*.jsonl", SearchOption.AllDirectories).Order(StringComparer.Ordinal).ToArray();
        var part = parts[source.NextIndex(parts.Length)];
        var bytes = File.ReadAllBytes(part);
        bytes[source.NextIndex(bytes.Length)] ^= (byte)(1 << source.NextIndex(8));
        File.WriteAllBytes(part, bytes);
        if (JournalFolder.Open(copy, Opening) is not Core.Outcome<Workshop.Ports.IJournal>.Good { Value: JournalFolder opened })
            return false; // refused in words
        using (opened)
        {
            var there = opened.Entries().Select(entry => entry.Body).OfType<EntryBody.ReadingTaken>().ToList();
            var same = there.Count == Readings && there.Select((taken, at) => taken.Value == KillRun.Reading(at + 1).Value).All(equal => equal);
            return !same && opened.Notices.Count == 0 && opened.CutOff is null && opened.ReadOnlyReason is null && opened.Check().Faults.Count == 0;
        }
    }

    private static JournalFolder Open(string folder) => (JournalFolder)JournalFolder.Open(folder, Opening).Require();

    private static JournalOpening Opening { get; } = new()
    {
        Nature = StoreNature.Practice, Program = "proof", Clock = TimeProvider.System, NewStore = () => "proof1", SegmentBytes = 6000,
    };
}
