using Commission.App.Screens;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Procedures;
using Commission.Practice.Bench;
using Commission.Workshop.Ports;

namespace Commission.App.Rehearsal;

/// <summary>The practice machine with its store and its controller, in place of all that requests ask for: no other store and no port of the computer can be opened from here.</summary>
internal sealed class PracticeRoom : IStores, IPortNames
{
    private readonly PracticeBench bench;
    private readonly PracticeLook look;
    private readonly PracticePort port;
    private readonly Func<bool, Outcome<IStoreFolder>> open;

    private PracticeRoom(PracticeBench bench, PracticePort port, ulong seed, Func<bool, Outcome<IStoreFolder>> open)
    {
        (this.bench, this.port, this.open, Seed) = (bench, port, open, seed);
        look = new PracticeLook(bench);
    }

    /// <summary>Seed of the machine.</summary>
    public ulong Seed { get; }

    /// <summary>The practice controller.</summary>
    public IPortOpener Port => port;

    /// <summary>The folder it is kept in; null where it is gone at the end.</summary>
    public string? Kept { get; private init; }

    /// <summary>Sets the room up: the machine and its owner's kit are described where they are not yet.</summary>
    /// <param name="journal">The practice journal; one in a folder is closed here, and opened again by each request.</param>
    /// <param name="seed">Seed of the machine.</param>
    /// <param name="stores">Opens a folder.</param>
    /// <param name="clock">Clock of the controller.</param>
    /// <param name="scale">Seconds of the controller for one of the clock.</param>
    public static PracticeRoom Of(IJournal journal, ulong seed, IStores stores, TimeProvider clock, double scale)
    {
        var bench = PracticeRecord.Bench(journal.Present(null).Ledger, seed);
        ScreenProgram.Furnish(journal, seed, bench);
        var port = new PracticePort(bench, clock, scale);
        if (journal is not IStoreFolder { Folder: var folder })
            return new PracticeRoom(bench, port, seed, _ => new PracticeFolder(journal));
        journal.Dispose();
        return new PracticeRoom(bench, port, seed, write => stores.Open(folder, StoreNature.Practice, write)) { Kept = folder };
    }

    /// <summary>What somebody sees who looks at the simulated instrument, on one visit to the bench.</summary>
    public Func<ProcedureRun, Need.TakeReading, string> Visit()
    {
        var visit = new object();
        return (run, read) => look.Shows(visit, run, read);
    }

    /// <summary>What was written to the controller is so on the machine, and stays so.</summary>
    public void Settle()
    {
        if (!port.Settle())
            return;
        if (open(true) is not Outcome<IStoreFolder>.Good { Value: var store })
            return;
        using (store)
            new PracticeRecord(store, Seed).Keep(bench);
    }

    /// <inheritdoc/>
    public bool Exists(string folder) => true;

    /// <inheritdoc/>
    public Outcome<IStoreFolder> Open(string folder, StoreNature nature, bool write) => open(write);

    /// <inheritdoc/>
    public IReadOnlyList<PortName> List() => [new PortName(PracticePort.Name, PracticePort.Name, Stable: true)];
}
