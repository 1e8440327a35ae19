using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Machines;
using static System.FormattableString;

namespace Commission.Core.Upkeep;

/// <summary>A fact that a finding rests on, and that its machine is no longer described with.</summary>
/// <param name="Then">The fact as it was, for example <c>grade 7</c>.</param>
/// <param name="Now">What is known now, for example <c>not known now</c>.</param>
public sealed record LostFact(string Then, string Now)
{
    /// <summary>Without what is known now, where room is scarce.</summary>
    public string Short => $"rests on {Then}, which no longer stands";

    /// <summary>The whole clause.</summary>
    public string Clause => $"{Short} ({Now})";
}

/// <summary>
/// Facts of the machine that a finding rests on and that its description has no longer: a grade, a lead, a travel that was corrected. What was
/// measured stands; what was said about it was said with the old fact, and says so (our choice).
/// </summary>
public static class RestingFacts
{
    // Two ways of stating one number differ by its last digits.
    private const double Same = 1e-9;

    private const string AxisScale = "axis-scale";

    /// <summary>What no longer stands; empty where everything does.</summary>
    /// <param name="ledger">What the chain amounts to.</param>
    /// <param name="made">The finding.</param>
    public static ImmutableArray<LostFact> Of(Ledger ledger, Entered<EntryBody.FindingMade> made)
    {
        if (made.Body is not { Machine: { } name, Options: { Axis: { } axis } then } || !ledger.Machines.TryGetValue(name, out var known) || known.Described.Sequence < made.Sequence)
            return [];
        var now = known.Description[axis];
        var written = ledger.SettingsWritten.Exists(one => one.Sequence > made.Sequence && one.Body.Machine == name && one.Body.Axis == axis.ToString());
        LostFact?[] all =
        [
            then.Drive == DriveKind.Unknown || then.Drive == now.Drive ? null : new("drive " + MachineWords.Of(MachineWords.Drives, then.Drive), now.Drive == DriveKind.Unknown ? Unknown : MachineWords.Of(MachineWords.Drives, now.Drive) + " now"),
            made.Body.Finding.Kind == AxisScale ? Grade(then.ScrewGrade, now.Grade) : null,
            Number("travel per turn", then.TravelPerTurnMm, now.TravelPerTurnMm, " mm"),
            made.Body.Run is null ? null : Number("travel", then.TravelMm, known.Description.Travel(axis), " mm"),
            // A ratio that was set since marks what rests on it by the stale table.
            written ? null : Number("a ratio of", then.StepsPerMm, now.StepsPerMm, " steps/mm"),
        ];
        return [.. all.OfType<LostFact>()];
    }

    /// <summary>That the class of work that set a finding's limit is no longer the machine's, a clause; null where it is, and where somebody gave the limit.</summary>
    /// <param name="ledger">What the chain amounts to.</param>
    /// <param name="made">The finding.</param>
    public static string? OtherClass(Ledger ledger, EntryBody.FindingMade made) =>
        made is { Machine: { } name, Options.Tolerance: { } limit } && AcceptanceClasses.ClassOf(limit) is { } then && ledger.Machines.TryGetValue(name, out var known)
        && known.Description.Class is var now && then != (now == WorkClass.Unknown ? WorkClass.Wood : now)
            ? $"was judged by the limit of {AcceptanceClasses.NameOf(then)}; the class of work is {AcceptanceClasses.NameOf(now)} now, and bench and report judge by that" : null;

    /// <summary>The options of a finding with the facts of the machine as it is described now.</summary>
    /// <param name="made">The finding.</param>
    /// <param name="machine">The machine.</param>
    public static FitOptions Now(EntryBody.FindingMade made, Machine machine) => made.Options.Axis is not { } axis ? made.Options : made.Options with
    {
        Drive = machine[axis].Drive,
        ScrewGrade = machine[axis].Grade,
        TravelPerTurnMm = machine[axis].TravelPerTurnMm,
        TravelMm = made.Run is null ? made.Options.TravelMm : machine.Travel(axis),
    };

    private const string Unknown = "not known now";

    // The advice on a scale without a grade is another than with one; nothing else asks for it.
    private static LostFact? Grade(int? then, int? now) => (then, now) switch
    {
        ({ } old, { } other) when old == other => null,
        ({ } old, _) => new(Invariant($"grade {old}"), now is { } other ? Invariant($"grade {other} now") : Unknown),
        (null, { } given) => new("an unknown grade", Invariant($"grade {given} now")),
        _ => null,
    };

    private static LostFact? Number(string what, double? then, double? now, string unit) => then is not { } old || (now is { } same && Math.Abs(same - old) <= Same * Math.Abs(old)) ? null
        : new(Invariant($"{what} {old:0.######}{unit}"), now is { } number ? Invariant($"{number:0.######}{unit} now") : Unknown);
}
