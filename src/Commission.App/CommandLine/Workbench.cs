using System.CommandLine;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Instruments;
using Commission.Core.Machines;
using Commission.Core.Quantities;
using Commission.Workshop.Ports;
using Commission.Workshop.Requests;

namespace Commission.App.CommandLine;

/// <summary>What all verbs share: files, the store, answers, and how the options that stand everywhere are understood.</summary>
internal sealed class Workbench(Surroundings here, ITextFiles files, IStores stores)
{
    /// <summary>The world around.</summary>
    public Surroundings Here => here;

    /// <summary>Files that a person names.</summary>
    public ITextFiles Files => files;

    /// <summary>The way answers are written for this request.</summary>
    public Answer Answer(ParseResult parsed) => new(here, parsed.GetValue(Common.Json));

    /// <summary>The folder of the store meant.</summary>
    public string Folder(ParseResult parsed) => parsed.GetValue(Common.Store) ?? here.DefaultStore;

    /// <summary>Whether there is a store in the folder meant.</summary>
    public bool HasStore(ParseResult parsed) => stores.Exists(Folder(parsed));

    /// <summary>What the store holds of the present, with all of the machine meant.</summary>
    public Outcome<Ledger> Ledger(ParseResult parsed) => Read<Ledger>(parsed, journal => ChooseMachine.Present(journal, parsed.GetValue(Common.Machine)).Match(
        chosen => chosen.Present.Ledger, _ => journal.Present(null).Ledger));

    /// <summary>Reads the store; where there is none, the request is bad.</summary>
    public Outcome<T> Read<T>(ParseResult parsed, Func<IStoreFolder, Outcome<T>> use)
    {
        var folder = Folder(parsed);
        return stores.Exists(folder)
            ? Use(parsed, stores.Open(folder, StoreNature.Real, write: false), use)
            : new Problem($"there is no store in {folder}", "Begin with machine new, or name another folder with --store");
    }

    /// <summary>Opens the store for writing, made where there is none.</summary>
    public Outcome<T> Write<T>(ParseResult parsed, Func<IStoreFolder, Outcome<T>> use) => Use(parsed, stores.Open(Folder(parsed), StoreNature.Real, write: true), store =>
        store.ReadOnlyReason is { } reason
            ? new Problem("the store can only be read: " + reason, "Close the other program, or free what is named") { IsFailure = true }
            : use(store));

    /// <summary>Opens the store for writing and leaves closing it to the caller; where there is none, the request is bad.</summary>
    public Outcome<IStoreFolder> Store(ParseResult parsed)
    {
        var folder = Folder(parsed);
        return stores.Exists(folder)
            ? stores.Open(folder, StoreNature.Real, write: true).Then(store =>
            {
                Tell(parsed, store.Notices);
                return new Outcome<IStoreFolder>.Good(store);
            })
            : new Problem($"there is no store in {folder}", "Begin with machine new, or name another folder with --store");
    }

    /// <summary>The machine meant.</summary>
    public Outcome<Machine> Machine(ParseResult parsed) => Ledger(parsed).Then(ledger => ChooseMachine.From(ledger, parsed.GetValue(Common.Machine)));

    /// <summary>Units to show: those the request names, else those of the machine meant, where there is one.</summary>
    public ShownUnits Units(ParseResult parsed) =>
        Common.Shown(parsed, parsed.GetValue(Common.Units) is null && HasStore(parsed) ? Machine(parsed).Match(machine => (Machine?)machine, _ => null) : null);

    /// <summary>What a plan takes from the store: the machine meant and the owner's instruments. No machine is needed where the travel is told.</summary>
    public Outcome<(Machine? Machine, System.Collections.Immutable.ImmutableArray<Instrument> Owned)> PlanFacts(ParseResult parsed, bool travelTold)
    {
        if (travelTold && parsed.GetValue(Common.Machine) is null && parsed.GetValue(Common.Store) is null)
            return (default(Machine?), System.Collections.Immutable.ImmutableArray<Instrument>.Empty);
        return Ledger(parsed).Then(ledger => ChooseMachine.From(ledger, parsed.GetValue(Common.Machine)).Then<(Machine?, System.Collections.Immutable.ImmutableArray<Instrument>)>(machine =>
            (machine, [.. ledger.Kit])));
    }

    /// <summary>Finds an instrument of the owner by name, else one of the catalogue by id.</summary>
    public Func<string, Instrument?> Instruments(ParseResult parsed) =>
        (stores.Exists(Folder(parsed)) ? Ledger(parsed).Match(ledger => ledger, _ => Core.History.Ledger.Empty) : Core.History.Ledger.Empty).Instrument;

    /// <summary>Tells what opening found: in words on standard error, and the request goes on.</summary>
    public void Tell(ParseResult parsed, IReadOnlyList<Problem> notices)
    {
        if (notices.Count > 0)
            Answer(parsed).Problems([.. notices]);
    }

    // What closing found, a copy made meanwhile that failed for one, is told after the rest.
    private Outcome<T> Use<T>(ParseResult parsed, Outcome<IStoreFolder> opened, Func<IStoreFolder, Outcome<T>> use) => opened.Then(journal =>
    {
        var told = journal.Notices.Count;
        Tell(parsed, journal.Notices);
        Outcome<T> answer;
        using (journal)
            answer = use(journal);
        Tell(parsed, [.. journal.Notices.Skip(told)]);
        return answer;
    });
}
