using System.Collections.Immutable;

namespace Commission.Core.Upkeep;

/// <summary>The next thing to do, with its reason.</summary>
/// <param name="State">The result it is about.</param>
/// <param name="Item">The item.</param>
/// <param name="Procedure">Id of the procedure.</param>
/// <param name="Because">Why, in words.</param>
public sealed record NextWork(ResultState State, WorkItem Item, string Procedure, string Because)
{
    /// <summary>Minutes it takes.</summary>
    public int Minutes => Item.Minutes;

    /// <summary>What it costs to leave it, in a sentence.</summary>
    public string Skipping => Item.Skipping;

    /// <summary>Whether it verifies a setting that was written: until then nobody knows what the new number does.</summary>
    public bool Verifies => State.Verifies is not null;

    /// <summary>
    /// Everything to do, first things first: the machine's checks where they are open, then what is suspect, then what verifies a setting that was written, then what was never measured or is
    /// stale in the order of work, then what is due; nothing whose foundations are missing.
    /// </summary>
    public static ImmutableArray<NextWork> For(MachineUpkeep upkeep)
    {
        var states = upkeep.All;
        return
        [
            .. states
                .Where(state => state.Standing is not (Standing.Fresh or Standing.NotApplicable))
                .Where(state => Founded(state, states))
                .OrderBy(state => state.Key.Item == StaleTable.Checks && state.Standing != Standing.Due ? -1 : state.Standing switch { Standing.Suspect => 0, Standing.Due => 3, _ => state.Verifies is null ? 2 : 1 })
                .Select(Work),
        ];
    }

    private static bool Founded(ResultState state, ImmutableArray<ResultState> states) => ItemOf(state).Needs
        .Where(need => need.UsesValue)
        .All(need => states.Where(other => other.Key.Item == need.Item)
            .Where(other => other.Key.Axis is null || state.Key.Axis is null || other.Key.Axis == state.Key.Axis)
            .All(other => other.Usable || MadeStaleByIt(other, state)));

    // What the setting itself made stale does not hold its verification up: else it would wait for all that has to wait for it.
    private static bool MadeStaleByIt(ResultState other, ResultState state) => state.Verifies is { } written && other.StaleSince == written;

    private static NextWork Work(ResultState state)
    {
        var item = ItemOf(state);
        var because = state.Reasons.IsEmpty ? "there is no result yet" : state.Verifies is { } written ? Unverified(state, written) : state.Reasons[0].Because;
        return new NextWork(state, item, item.Procedures[0], because);
    }

    private static string Unverified(ResultState state, long written) =>
        state.Reasons.First(reason => reason.Verifies && reason.Entry == written).Because + "; only a new result shows what the new number does";

    private static WorkItem ItemOf(ResultState state) => WorkGraph.All.First(item => item.Id == state.Key.Item);
}
