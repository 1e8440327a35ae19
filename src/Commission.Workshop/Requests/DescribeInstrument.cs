using Commission.Core;
using Commission.Core.History;
using Commission.Core.Instruments;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Requests;

/// <summary>Enters an instrument of the owner, or takes it out of use.</summary>
public sealed class DescribeInstrument(IJournal journal)
{
    /// <summary>Enters an instrument of a name that is not taken by one in use.</summary>
    public Outcome<Instrument> Add(Instrument instrument) =>
        journal.Present(null).Ledger.Instruments.TryGetValue(instrument.Name, out var known) && !known.Body.Retired
            ? new Problem($"there is an instrument named \"{instrument.Name}\"", "Choose another name, or retire that one first")
            : Enter(instrument, retired: false);

    /// <summary>Takes an instrument out of use; what was measured with it stays.</summary>
    public Outcome<Instrument> Retire(string name) =>
        journal.Present(null).Ledger.Instruments.TryGetValue(name, out var known)
            ? Enter(known.Body.Description, retired: true)
            : new Problem($"there is no instrument named \"{name}\"", "See instrument list");

    private Outcome<Instrument> Enter(Instrument instrument, bool retired) =>
        journal.Append(new EntryBody.InstrumentDescribed(instrument, retired)).Then<Instrument>(_ => instrument);
}
