using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Requests;

/// <summary>Enters a machine, describes it anew, or takes it out of use. Each is a new entry; nothing before is changed.</summary>
public sealed class DescribeMachine(IJournal journal)
{
    /// <summary>Enters a machine of a name that is not taken.</summary>
    public Outcome<Machine> Add(Machine machine) => Known(machine.Name)
        ? new Problem($"there is a machine named \"{machine.Name}\"", "Use machine edit to describe it anew, or choose another name")
        : Enter(machine, retired: false);

    /// <summary>Describes a known machine anew.</summary>
    public Outcome<Machine> Change(Machine machine) => Known(machine.Name)
        ? Enter(machine, retired: false)
        : new Problem($"there is no machine named \"{machine.Name}\"", "Use machine new to enter it");

    /// <summary>Takes a machine out of use.</summary>
    public Outcome<Machine> Retire(string? name) => ChooseMachine.Present(journal, name).Then(chosen => Enter(chosen.Machine, retired: true));

    private bool Known(string name) => journal.Present(null).Ledger.Machines.ContainsKey(name);

    private Outcome<Machine> Enter(Machine machine, bool retired) =>
        journal.Append(new EntryBody.MachineDescribed(machine, retired) { Machine = machine.Name }).Then<Machine>(_ => machine);
}
