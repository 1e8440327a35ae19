using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.Machines;
using Commission.Core.Quantities;
using Commission.Core.Upkeep;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Requests;

/// <summary>Answers how a result moved over the years.</summary>
public sealed class ShowTrend(IJournal journal)
{
    /// <summary>The trend of one key.</summary>
    /// <param name="machine">The machine; null for the only one.</param>
    /// <param name="word">The characteristic: its item, its kind of finding, or a procedure that finds it.</param>
    /// <param name="axis">The axis; null for all, and then it must be the only one with results.</param>
    /// <param name="place">The place; null where there is only one.</param>
    public Outcome<TrendView> Run(string? machine, string word, AxisName? axis, string? place = null)
    {
        if (WorkGraph.Find(word) is not { } item)
            return new Problem($"\"{Words.Clean(word)}\" is nothing that is measured", $"Name one of: {string.Join(", ", WorkGraph.All.Select(known => known.Id))}");
        return Series(machine, item.Id).Then<TrendView>(series =>
        {
            var (name, fold) = series;
            var keys = fold.Results.Keys
                .Where(key => key.Item == item.Id && (key.Machine == name || key.Machine.Length == 0))
                .Where(key => (axis is null || key.Axis == axis.ToString()) && (place is null || key.Place == place))
                .Where(key => fold.Counting(key).Any(result => result.Number is not null))
                .OrderBy(key => key.Axis, StringComparer.Ordinal).ThenBy(key => key.Place, StringComparer.Ordinal).ToList();
            return keys switch
            {
                [] => new Problem($"{name} has no result of {item.Title}{(axis is null ? "" : $" of {axis}")} with a number", "Measure it first; history next tells the order"),
                [var key] => TrendOfResults.Of(fold, key, Limits(name)) is { } view ? Standing(name, view) : new Problem($"no result of {item.Title} has an uncertainty", "Name an instrument when measuring; what was adopted is no result"),
                _ => new Problem($"there are several: {string.Join(", ", keys.Select(key => (key.Axis + " " + key.Place).Trim()))}", "Name one with --axis, and --place where there are several"),
            };
        });
    }

    // What a result rests on is no part of its series: how it stands is asked of all.
    private TrendView Standing(string machine, TrendView view) => journal.Present(machine) is var present && present.Ledger.Machines.TryGetValue(machine, out var known) && journal.LastEntry is { At: var last }
        ? view.By(new MachineUpkeep(present.Upkeep, known.Description, last, journal.Limits)) : view;

    private WorkLimits Limits(string machine) =>
        new(journal.Limits, journal.Present(machine).Ledger.Machines.TryGetValue(machine, out var known) ? known.Description.Class : WorkClass.Unknown);

    // From the index where there is one; else, and where the machine cannot be told from it, from the whole journal.
    private Outcome<(string Machine, UpkeepFold Fold)> Series(string? machine, string item)
    {
        if (journal is IStoreFolder { Index: { } index } && (machine is null ? index.Machines : index.Machines.Where(known => known == machine.Trim()).ToList()) is [var only])
            return (only, index.Series(only, item));
        return ChooseMachine.Present(journal, machine).Then<(string, UpkeepFold)>(chosen => (chosen.Machine.Name, chosen.Present.Upkeep));
    }
}
