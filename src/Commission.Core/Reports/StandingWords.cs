using Commission.Core.History;
using Commission.Core.Upkeep;

namespace Commission.Core.Reports;

/// <summary>The words for how a result stands.</summary>
public static class StandingWords
{
    /// <summary>How a result stands, with why where it is not fresh; empty for none.</summary>
    public static string Of(ResultState? state) => state is null ? ""
        : Of(state.Standing) + (state.Standing is Standing.Due or Standing.Stale or Standing.Suspect ? ": " + state.Reasons[0].Because : "");

    /// <summary>How a finding stands; empty for none.</summary>
    public static string Of(FindingRecord finding, MachineUpkeep upkeep) =>
        finding.Withdrawn is { } withdrawn ? "withdrawn: " + withdrawn.Body.Reason : Of(upkeep.Of(finding.Sequence));

    /// <summary>The word for a standing.</summary>
    public static string Of(Standing standing) => standing switch
    {
        Standing.NotApplicable => "not applicable",
        Standing.Never => "never",
        Standing.Fresh => "fresh",
        Standing.Due => "due",
        Standing.Stale => "stale",
        Standing.Suspect => "suspect",
        _ => throw new System.Diagnostics.UnreachableException(),
    };
}
