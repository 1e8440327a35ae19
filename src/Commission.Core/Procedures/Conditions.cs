using System.Collections.Immutable;
using Commission.Core.Instruments;
using Commission.Core.Machines;

namespace Commission.Core.Procedures;

/// <summary>The facts that <c>when</c> may name and whether they hold.</summary>
public static class Conditions
{
    /// <summary>The word for a value that is not known.</summary>
    public const string Unknown = "unknown";

    // A number is rarely compared; mostly it matters whether it is known.
    private const string KnownWord = "known";

    /// <summary>Names of all facts.</summary>
    public static ImmutableArray<string> Facts { get; } = ["link", "instrument", "axis", .. MachineFacts.All.Keys];

    /// <summary>The words that a fact may be compared with; empty where any number may stand.</summary>
    public static ImmutableArray<string> WordsOf(string fact) => fact switch
    {
        "link" => ["yes", "no"],
        "instrument" => [.. InstrumentCatalogue.Kinds.Keys],
        "axis" => [.. MachineWords.Axes.Keys],
        _ => MachineFacts.All[fact] is { Words.IsEmpty: false } words ? words.Words : [],
    };

    /// <summary>Whether a word may stand beside a fact.</summary>
    public static bool Fits(string fact, string word) =>
        WordsOf(fact) is { IsEmpty: false } words ? words.Contains(word) : word is Unknown or KnownWord || YamlFields.TryNumber(word, out _);

    /// <summary>Whether all conditions hold.</summary>
    /// <param name="conditions">The conditions; none always hold.</param>
    /// <param name="machine">The machine as it is known now.</param>
    /// <param name="axis">The axis of the step; null where it speaks of none: then one axis that fulfils the condition is enough.</param>
    /// <param name="setting">Link and instruments.</param>
    public static bool Hold(ImmutableArray<Condition> conditions, Machine machine, AxisName? axis, RunSetting setting) =>
        conditions.All(condition => Holds(condition, machine, axis, setting));

    private static bool Holds(Condition condition, Machine machine, AxisName? axis, RunSetting setting) => condition.Fact switch
    {
        "link" => condition.Words.Contains(setting.Link ? "yes" : "no"),
        "instrument" => condition.Words.Any(word => setting.Owned.Contains(InstrumentCatalogue.Kinds[word])),
        "axis" => axis is { } one && condition.Words.Contains(MachineWords.Of(MachineWords.Axes, one)),
        _ => Holds(condition, MachineFacts.All[condition.Fact], machine, axis),
    };

    private static bool Holds(Condition condition, MachineFact fact, Machine machine, AxisName? axis)
    {
        if (!fact.OfAxis || axis is not null) return Matches(condition, fact.Get(machine, axis ?? AxisName.X));
        return Enum.GetValues<AxisName>().Any(any => Matches(condition, fact.Get(machine, any)));
    }

    private static bool Matches(Condition condition, string value) =>
        condition.Words.Any(word => word == value || (word == KnownWord && value != Unknown));
}
