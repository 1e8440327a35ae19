using System.Collections.Immutable;
using Commission.Core.History;
using Commission.Core.Upkeep;
using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>What a report says about how every result stands, and what to do next.</summary>
internal static class StandingSections
{
    private const int ShownNext = 5;

    /// <summary>The standings of a machine at the instant of the report.</summary>
    public static MachineUpkeep Upkeep(ReportScope scope) => new(scope.Upkeep, scope.Machine, scope.AsOf, scope.Limits);

    /// <summary>Title of a result.</summary>
    public static string Title(ResultKey key) => WorkGraph.TitleOf(key.Item);

    /// <summary>How a finding stands where it no longer holds, stale or suspect: then no verdict is given on it. Null where it holds.</summary>
    public static ResultState? NoLonger(MachineUpkeep upkeep, EntryBody.FindingMade made) =>
        WorkGraph.Holding(made.Characteristic, made.Place) is { } item && upkeep.State(new ResultKey(made.Machine ?? "", item.Id, item.Scope == WorkScope.Axis ? made.Axis : null, made.Place))
            is { Standing: Standing.Stale or Standing.Suspect } state ? state : null;

    /// <summary>The section.</summary>
    public static ReportSection Of(ReportScope scope)
    {
        var upkeep = Upkeep(scope);
        var next = NextWork.For(upkeep);
        return new ReportSection("How every result stands", 1,
        [
            new ReportBlock.Table(
                "result",
                ["result", "axis", "state", "measured", "due", "because"],
                [.. upkeep.All.Select(Row)]),
            new ReportBlock.Items(
            [
                .. next.Take(ShownNext).Select((work, at) => Invariant(
                    $"{(at == 0 ? "next to do" : "then")}: {work.Item.Title}{(work.State.Key.Axis is { } axis ? " of " + axis : "")}, {work.Minutes} minutes ({work.Because}); left undone: {work.Skipping}")),
            ]),
        ]);
    }

    private static ImmutableArray<ReportCell> Row(ResultState state) =>
    [
        Title(state.Key), state.Key.Axis ?? "", StandingWords.Of(state.Standing), Day(state.MeasuredAt), Day(state.DueAt),
        string.Join("; ", state.Reasons.Select(reason => reason.Because + (reason.Entry is { } entry ? Invariant($" (entry {entry})") : ""))),
    ];

    private static string Day(DateTimeOffset? at) => at is { } day ? Invariant($"{day:yyyy-MM-dd}") : "";
}
