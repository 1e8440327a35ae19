using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Quantities;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Requests;

/// <summary>The machine a request means: the one named, or the only one there is.</summary>
public static class ChooseMachine
{
    /// <summary>Chooses among the machines of a store.</summary>
    /// <param name="ledger">What the store holds.</param>
    /// <param name="name">The name given; null for the only one.</param>
    public static Outcome<Machine> From(Ledger ledger, string? name)
    {
        var all = ledger.Machines.Values.ToList();
        if (name is not null)
        {
            return ledger.Machines.TryGetValue(name.Trim(), out var found)
                ? found.Description
                : new Problem($"the store knows no machine named \"{Words.Clean(name)}\"", "Its machines: " + List(all));
        }

        var inUse = all.Where(machine => !machine.Retired).ToList();
        return inUse switch
        {
            [var only] => only.Description,
            [] => new Problem("the store holds no machine in use", "Describe one with machine new"),
            _ => new Problem("the store holds several machines", "Name one with --machine: " + List(inUse)),
        };
    }

    /// <summary>The machine meant, and how things stand with it.</summary>
    /// <param name="journal">The journal.</param>
    /// <param name="name">The name given; null for the only one.</param>
    public static Outcome<(Machine Machine, PresentState Present)> Present(IJournal journal, string? name)
    {
        var first = journal.Present(name?.Trim());
        return From(first.Ledger, name).Then(machine =>
        {
            // Which one it is the store as a whole tells; what was written or told of it stands with what is its own.
            var own = name is null && !first.Whole ? journal.Present(machine.Name) : first;
            return From(own.Ledger, machine.Name).Then<(Machine, PresentState)>(known => (known, own));
        });
    }

    private static string List(List<MachineRecord> machines) =>
        machines.Count == 0 ? "none" : string.Join(", ", machines.Select(m => m.Description.Name + (m.Retired ? " (retired)" : "")));
}
