using System.Globalization;
using Commission.Core;
using Commission.Core.History;

namespace Commission.Adapters.Storage;

public sealed partial class JournalFolder
{
    /// <inheritdoc/>
    public IReadOnlyList<string> ForeignStores => [.. mediumOf("chains").Files().Order(StringComparer.Ordinal)];

    /// <inheritdoc/>
    public IEnumerable<JournalEntry> Foreign(string store)
    {
        using var foreign = OpenForeign(store, write: false);
        foreach (var entry in Read(foreign.Lines()))
            yield return entry;
    }

    /// <inheritdoc/>
    public IEnumerable<ReadOnlyMemory<byte>> Lines()
    {
        foreach (var (line, _) in chain.Lines())
            yield return line;
        foreach (var store in ForeignStores)
        {
            using var foreign = OpenForeign(store, write: false);
            foreach (var (line, _) in foreign.Lines())
                yield return line;
        }
    }

    /// <inheritdoc/>
    public Outcome<long> Import(IReadOnlyList<ReadOnlyMemory<byte>> lines, string source)
    {
        copying.Wait();
        lock (gate)
        {
            if (ReadOnlyReason is { } reason)
                return new Problem($"nothing can be brought in: {reason}", "Open the store again once this is put right");
            return Imported.Read(lines, source).Then(chains => chain.Last == 1 && ForeignStores.Count == 0 && chains[0].Nature == Nature
                ? Become(chains, source)
                : Take(chains, source));
        }
    }

    // A store that holds nothing but its own birth becomes the one that is brought in, byte for byte; its first line stays beside it.
    private Outcome<long> Become(IReadOnlyList<Imported> chains, string source)
    {
        long count = 0;
        var written = TryWriting(() =>
        {
            var begun = chain;
            var aside = mediumOf("unused-" + begun.Store);
            foreach (var file in mediumOf("journal").Files())
            {
                using (var copy = aside.Append(file))
                {
                    copy.Write(mediumOf("journal").ReadAll(file));
                    copy.Flush();
                }

                aside.Flush();
                mediumOf("journal").Truncate(file, 0);
            }

            begun.Dispose();
            chain = JournalChain.Open(mediumOf("journal"), write: true, opening.SegmentBytes);
            count = chain.Take(chains[0].Store, chains[0].Nature, chains[0].Lines);
        });
        return written.Then(_ => Take(chains, source)).Then<long>(others => others + count);
    }

    private Outcome<long> Take(IReadOnlyList<Imported> chains, string source)
    {
        var problems = chains.SelectMany(imported => WhyNot(imported, source)).ToList();
        if (problems.Count > 0)
            return new Outcome<long>.Bad([.. problems]);
        long count = 0;
        foreach (var imported in chains.Where(imported => imported.Store != Store))
        {
            var written = TryWriting(() => count += Take(imported));
            if (written is Outcome<bool>.Bad bad)
                return new Outcome<long>.Bad(bad.Problems);
        }

        return count;
    }

    private IEnumerable<Problem> WhyNot(Imported imported, string source)
    {
        if (imported.Nature != Nature)
            yield return new Problem($"the journal of '{imported.Store}' is {(imported.Nature == StoreNature.Practice ? "one of the practice machine" : "one of a real machine")} and this store is not", "Bring it into a store of its own kind") { File = source };
        var own = imported.Store == Store;
        using var known = own ? null : OpenForeign(imported.Store, write: false);
        var there = (own ? chain : known!).Lines().ToDictionary(line => line.Place.Sequence, line => line.Place.Self);
        foreach (var (_, place) in imported.Lines)
        {
            if (there.TryGetValue(place.Sequence, out var self) && self != place.Self)
            {
                yield return new Problem(string.Create(CultureInfo.InvariantCulture, $"entry {place.Sequence} of '{imported.Store}' differs from the one that is here"), "Keep the two stores apart and find out which is the true one") { File = source };
                yield break;
            }
        }

        if (own && imported.Lines[^1].Place.Sequence > chain.Last)
            yield return new Problem(string.Create(CultureInfo.InvariantCulture, $"the file knows {imported.Lines[^1].Place.Sequence} entries of this very store, which has {chain.Last}"), "Bring the file into an empty folder and go on there") { File = source };
    }

    private long Take(Imported imported)
    {
        using var foreign = OpenForeign(imported.Store, write: true);
        var count = foreign.Take(imported.Store, imported.Nature, imported.Lines);

        // The list of chains comes last: a chain that was brought in by half is brought in again.
        using var listed = mediumOf("chains").Append(imported.Store);
        listed.Flush();
        mediumOf("chains").Flush();
        return count;
    }

    private JournalChain OpenForeign(string store, bool write) => JournalChain.Open(mediumOf("chain-" + store), write, opening.SegmentBytes);

    /// <summary>One chain of an export.</summary>
    private sealed record Imported(string Store, StoreNature Nature, IReadOnlyList<(ReadOnlyMemory<byte> Line, LinePlace Place)> Lines)
    {
        internal static Outcome<IReadOnlyList<Imported>> Read(IReadOnlyList<ReadOnlyMemory<byte>> lines, string source)
        {
            var chains = new List<(string Store, List<(ReadOnlyMemory<byte>, LinePlace)> Lines)>();
            var problems = new List<Problem>();
            for (var at = 0; at < lines.Count && problems.Count < 20; at++)
            {
                if (JournalLine.Place(lines[at].Span) is not { } place)
                    problems.Add(new Problem("the line is no entry of a journal, or was changed after it was written", "Export the journal again") { File = source, Line = at + 1, Column = 1 });
                else if (chains.Find(chain => chain.Store == place.Store) is { Lines: { } known } && known[^1] is (_, var before))
                    Follow(known, lines[at], place, before, new Problem(string.Create(CultureInfo.InvariantCulture, $"entry {place.Sequence} does not follow on entry {before.Sequence}"), "Export the journal again, whole") { File = source, Line = at + 1, Column = 1 }, problems);
                else if (place.Previous != JournalLine.NoPrevious || !IsStoreName(place.Store))
                    problems.Add(new Problem("the journal does not begin with its first entry", "Export the journal again, whole") { File = source, Line = at + 1, Column = 1 });
                else
                    chains.Add((place.Store, [(lines[at], place)]));
            }

            if (chains.Count == 0 && problems.Count == 0)
                problems.Add(new Problem("the file holds no entry", "Name a file that was exported from a store") { File = source });
            return problems.Count > 0
                ? new Outcome<IReadOnlyList<Imported>>.Bad([.. problems])
                : new Outcome<IReadOnlyList<Imported>>.Good([.. chains.Select(chain => new Imported(chain.Store, NatureOf(chain.Lines[0].Item1), chain.Lines))]);
        }

        private static void Follow(List<(ReadOnlyMemory<byte>, LinePlace)> known, ReadOnlyMemory<byte> line, LinePlace place, LinePlace before, Problem broken, List<Problem> problems)
        {
            // Where the writer went on after damage the numbers jump, and the hash names the entry before.
            if (place.Previous == before.Self && place.Sequence > before.Sequence)
                known.Add((line, place));
            else
                problems.Add(broken);
        }

        private static StoreNature NatureOf(ReadOnlyMemory<byte> first) => JournalLine.Read(first).Match(
            entry => entry.Body is EntryBody.StoreBorn born ? born.Nature : StoreNature.Real, _ => StoreNature.Real);

        // The name becomes the name of a folder, and comes out of a file from elsewhere.
        private static bool IsStoreName(string store) => store.Length <= 32 && store.All(letter => char.IsAsciiLetterLower(letter) || char.IsAsciiDigit(letter));
    }
}
