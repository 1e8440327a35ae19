using System.Collections.Immutable;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Requests;

/// <summary>The procedures a person can carry out: those shipped, and their own.</summary>
public sealed class ProcedureLibrary(IProcedureTexts texts, ITextFiles files)
{
    /// <summary>A procedure with the text it was read from.</summary>
    /// <param name="Procedure">The procedure.</param>
    /// <param name="Text">Its file.</param>
    public sealed record Entry(Procedure Procedure, ProcedureText Text);

    /// <summary>All procedures, in the order of their ids.</summary>
    /// <returns>The procedures, or every problem in their files.</returns>
    public Outcome<ImmutableArray<Entry>> All() => texts.All().Then(Read);

    /// <summary>A procedure by id.</summary>
    public Outcome<Entry> Find(string id) => All().Then<Entry>(all =>
        all.FirstOrDefault(entry => entry.Procedure.Id == id) is { } found
            ? found
            : new Problem($"there is no procedure \"{Words.Clean(id)}\"", "Known: " + string.Join(", ", all.Select(e => e.Procedure.Id))));

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

        return All().Then<int>(library =>
        {
            var ids = library.Select(e => e.Procedure.Id).Concat(read.Select(p => p.Id)).ToImmutableHashSet();
            var surroundings = new ProcedureSurroundings(ids, CharacteristicKinds.All);
            problems.AddRange(read.SelectMany(procedure => ProcedureChecker.Check(procedure, surroundings)));
            return problems.Count > 0 ? new Outcome<int>.Bad([.. problems]) : paths.Count;
        });
    }

    private static Outcome<ImmutableArray<Entry>> Read(IReadOnlyList<ProcedureText> texts)
    {
        var problems = new List<Problem>();
        var entries = new Dictionary<string, Entry>(StringComparer.Ordinal);
        foreach (var text in texts)
        {
            ProcedureReader.Read(text.File, text.Text).Match(
                procedure => { Add(entries, new Entry(procedure, text), problems); return 0; },
                bad => { problems.AddRange(bad); return 0; });
        }

        return problems.Count > 0
            ? new Outcome<ImmutableArray<Entry>>.Bad([.. problems])
            : entries.Values.OrderBy(e => e.Procedure.Id, StringComparer.Ordinal).ToImmutableArray();
    }

    private static void Add(Dictionary<string, Entry> entries, Entry entry, List<Problem> problems)
    {
        if (!entries.TryAdd(entry.Procedure.Id, entry))
        {
            problems.Add(new Problem($"the id \"{entry.Procedure.Id}\" is taken by {entries[entry.Procedure.Id].Text.File}", "Give the procedure an id of its own")
            {
                File = entry.Text.File,
            });
        }
    }
}
