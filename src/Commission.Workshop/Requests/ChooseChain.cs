using Commission.Core;
using Commission.Core.History;
using Commission.Core.Quantities;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Requests;

/// <summary>The chain a request is about: the store's own, or one that was brought in and knows the machine.</summary>
public static class ChooseChain
{
    /// <summary>Chooses among the chains of a store.</summary>
    /// <param name="store">The store.</param>
    /// <param name="chain">Id of the store that a chain came from, as named; null where none was.</param>
    /// <param name="machine">The machine as named; null where none was.</param>
    /// <returns>The journal to ask. One that was brought in can only be read.</returns>
    public static Outcome<IJournal> From(IStoreFolder store, string? chain, string? machine)
    {
        if (chain is not null)
        {
            return store.ForeignStores.Contains(chain)
                ? new Outcome<IJournal>.Good(new BroughtIn(store, chain))
                : new Problem($"no chain of a store \"{Words.Clean(chain)}\" was brought in", store.ForeignStores.Count == 0 ? "See history import" : "Name one of: " + string.Join(", ", store.ForeignStores));
        }

        if (machine is null || store.ForeignStores.Count == 0 || store.Present(null).Ledger.Machines.ContainsKey(machine.Trim()))
            return new Outcome<IJournal>.Good(store);
        var knowing = store.ForeignStores.Select(name => new BroughtIn(store, name)).Where(one => ((IJournal)one).Present(null).Ledger.Machines.ContainsKey(machine.Trim())).ToList();
        return knowing switch
        {
            [var only] => new Outcome<IJournal>.Good(only),
            [] => new Outcome<IJournal>.Good(store),
            _ => new Problem($"several chains know a machine named \"{Words.Clean(machine)}\"", "Name one with --chain: " + string.Join(", ", knowing.Select(one => one.Store))),
        };
    }

    /// <summary>A chain that was brought in, as a journal that can only be read.</summary>
    private sealed class BroughtIn(IStoreFolder store, string chain) : IJournal
    {
        private List<JournalEntry>? entries;

        public StoreNature Nature => store.Nature;

        public string Store => chain;

        public string? ReadOnlyReason => $"the chain of store {chain} was brought in: it is written where it comes from";

        public Core.Characteristics.AcceptanceClasses Limits => store.Limits;

        public IEnumerable<JournalEntry> Entries() => entries ??= [.. store.Foreign(chain)];

        public Outcome<JournalEntry> Append(EntryBody body) => new Problem("nothing can be written: " + ReadOnlyReason, "Write to the store's own chain");

        // It belongs to the store.
        public void Dispose()
        {
        }
    }
}
