using System.Collections.Immutable;
using Commission.Core;
using Commission.Core.Quantities;
using Commission.Workshop.Requests;

namespace Commission.App.Attended;

/// <summary>Settles which machine is at the cable: two can share one.</summary>
internal static class Identification
{
    /// <summary>Compares, says what is certain about an interrupted write, and asks where the machine is in doubt.</summary>
    /// <returns>Why it does not go on; null where it does.</returns>
    public static async Task<ImmutableArray<Problem>?> AskAsync(IdentifyController identify, string machine, Asking asking, CancellationToken cancellation)
    {
        switch (await identify.RunAsync(cancellation).ConfigureAwait(false))
        {
            case Outcome<Identity>.Bad bad:
                return [.. bad.Problems.Select(problem => problem with { IsFailure = true })];
            case Outcome<Identity>.Good { Value: var found }:
                if (found.Interrupted is { } interrupted)
                    asking.Say($"Remark: {Words.Clean(interrupted)}.");
                return found.Doubt is { } doubt && !asking.Confirm("machine", $"{Words.Clean(doubt)}. Is it {Words.Clean(machine)} all the same? yes or S goes on, no ends here.")
                    ? [new Problem($"it is not certain that this is {Words.Clean(machine)}", "Name the machine at this cable with --machine, or another store with --store")]
                    : null;
            default:
                throw new System.Diagnostics.UnreachableException();
        }
    }
}
