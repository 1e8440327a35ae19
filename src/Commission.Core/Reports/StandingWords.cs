using Commission.Core.Upkeep;

namespace Commission.Core.Reports;

/// <summary>The words for how a result stands.</summary>
public static class StandingWords
{
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
