using System.Collections.Immutable;
using System.Text;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Requests;

/// <summary>The procedures a person can carry out: those shipped, and their own.</summary>
public sealed class ProcedureLibrary(IProcedureTexts texts, ITextFiles files)
{
    private static ImmutableArray<string> Changes { get; } = [.. ChangeWord.All.Select(change => change.Word)];

    /// <summary>A procedure with the text it was read from.</summary>
    /// <param name="Procedure">The procedure.</param>
    /// <param name="Text">Its file.</param>
    public sealed record Entry(Procedure Procedure, ProcedureText Text);

    /// <summary>What there is: one broken file stops no other procedure.</summary>
    /// <param name="Entries">The procedures that can be carried out, in the order of their ids.</param>
    /// <param name="Broken">The files that cannot.</param>
    public sealed record Shelf(ImmutableArray<Entry> Entries, ImmutableArray<BrokenProcedure> Broken)
    {
        /// <summary>Every problem of the files that cannot be used.</summary>
        public ImmutableArray<Problem> Problems => [.. Broken.SelectMany(file => file.Problems)];

        /// <summary>A procedure by id; for a broken one its problems.</summary>
        public Outcome<Entry> Find(string id)
        {
            if (Entries.FirstOrDefault(entry => entry.Procedure.Id == id) is { } found) return found;
            if (Broken.Where(file => file.Id == id || Path.GetFileNameWithoutExtension(file.File) == id).SelectMany(file => file.Problems).ToImmutableArray() is { IsEmpty: false } problems)
                return new Outcome<Entry>.Bad(problems);
            return new Problem($"there is no procedure \"{Words.Clean(id)}\"", "Known: " + string.Join(", ", Entries.Select(entry => entry.Procedure.Id)));
        }
    }

    private Shelf? _read;
    private readonly Dictionary<(string Id, string Hash), Procedure?> _known = [];
    private ImmutableArray<ProcedureText>? _shipped;

    /// <summary>All procedures, and the files that hold none that can be used; read once, when they are first asked for.</summary>
    public Shelf All() => _read ??= Read();

    private Shelf Read()
    {
        var (found, unreadable) = texts.All();
        var broken = new List<BrokenProcedure>(unreadable);
        var entries = new Dictionary<string, Entry>(StringComparer.Ordinal);
        // Reading their texts is a third of the way to the first screen: all processors share it. Taken whole, so that this thread reads too instead of waiting for another.
        foreach (var (text, read) in found.AsParallel().AsOrdered().Select(text => (text, ProcedureReader.Read(text.File, text.Text))).ToArray())
        {
            read.Match(
                procedure => { Add(entries, new Entry(procedure, text), broken); return 0; },
                problems => { broken.Add(new BrokenProcedure(text.File, IdIn(text), problems)); return 0; });
        }

        // The shipped ones are checked where they are made; one's own may name what there is not, and must not be begun then.
        var surroundings = new ProcedureSurroundings([.. entries.Keys, .. broken.Select(file => file.Id)], CharacteristicKinds.All, Changes);
        foreach (var (id, entry) in entries.Where(pair => pair.Value.Text.Own).ToList())
        {
            if (ProcedureChecker.Check(entry.Procedure, surroundings) is not { IsEmpty: false } problems) continue;
            entries.Remove(id);
            broken.Add(new BrokenProcedure(entry.Text.File, id, problems));
        }

        return new Shelf([.. entries.Values.OrderBy(e => e.Procedure.Id, StringComparer.Ordinal)], [.. broken.OrderBy(file => file.File, StringComparer.Ordinal)]);
    }

    /// <summary>A procedure by id.</summary>
    public Outcome<Entry> Find(string id) => All().Find(id);

    /// <summary>A procedure as it is shipped, where its text is the one of a run; null where it is not. One's own are no part of it: what a report says must not depend on what lies in a folder today.</summary>
    /// <param name="id">Id of the procedure.</param>
    /// <param name="hash">Hash of the text that the run was carried out by.</param>
    public Procedure? Shipped(string id, string hash)
    {
        _shipped ??= [.. texts.All().Texts.Where(text => !text.Own)];
        if (_known.TryGetValue((id, hash), out var known))
            return known;
        return _known[(id, hash)] = _shipped.Value.FirstOrDefault(text => Path.GetFileNameWithoutExtension(text.File) == id) is { } found && Sha256.Hex(Encoding.UTF8.GetBytes(found.Text)) == hash
            ? ProcedureReader.Read(found.File, found.Text).Match(procedure => (Procedure?)procedure, _ => null) : null;
    }

    /// <summary>Checks files: every problem of each; what they refer to may stand in the library or in one of the files.</summary>
    /// <returns>The number of files checked, or every problem.</returns>
    public Outcome<int> Check(IReadOnlyList<string> paths)
    {
        var problems = new List<Problem>();
        var read = new List<Procedure>();
        foreach (var path in paths)
        {
            files.Read(path).Then(text => ProcedureReader.Read(path, text)).Match(
                procedure => { read.Add(procedure); return 0; },
                bad => { problems.AddRange(bad); return 0; });
        }

        var shelf = All();
        var surroundings = new ProcedureSurroundings(
            [.. shelf.Entries.Select(e => e.Procedure.Id), .. shelf.Broken.Select(file => file.Id), .. read.Select(p => p.Id)], CharacteristicKinds.All, Changes);
        problems.AddRange(read.SelectMany(procedure => ProcedureChecker.Check(procedure, surroundings)));
        return problems.Count > 0 ? new Outcome<int>.Bad([.. problems]) : paths.Count;
    }

    private static void Add(Dictionary<string, Entry> entries, Entry entry, List<BrokenProcedure> broken)
    {
        var id = entry.Procedure.Id;
        if (entries.TryAdd(id, entry)) return;
        broken.Add(new BrokenProcedure(entry.Text.File, id,
            [new Problem($"the id \"{id}\" is taken by {entries[id].Text.File}", "Give the procedure an id of its own") { File = entry.Text.File }]));
    }

    // By what somebody would ask for it: the line of the id, where there is one that can be read.
    private static string IdIn(ProcedureText text)
    {
        const string key = "id:";
        var line = text.Text.Split('\n').FirstOrDefault(line => line.StartsWith(key, StringComparison.Ordinal));
        return line?[key.Length..].Trim() is { Length: > 0 } id ? id : Path.GetFileNameWithoutExtension(text.File);
    }
}
