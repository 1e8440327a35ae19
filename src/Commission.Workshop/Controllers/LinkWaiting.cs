using Commission.Workshop.Ports;

namespace Commission.Workshop.Controllers;

/// <summary>Waiting for what a link tells, never without an end.</summary>
public static class LinkWaiting
{
    /// <summary>Waits until the link tells something.</summary>
    /// <param name="link">The link.</param>
    /// <param name="reached">What is waited for.</param>
    /// <param name="longest">How long at most.</param>
    /// <param name="time">The clock.</param>
    /// <param name="cancellation">Ends the waiting.</param>
    /// <returns>Whether it was told in time.</returns>
    public static async Task<bool> UntilAsync(
        this IControllerLink link, Func<LinkSnapshot, bool> reached, TimeSpan longest, TimeProvider time, CancellationToken cancellation)
    {
        var told = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        void Look(LinkSnapshot now)
        {
            if (reached(now))
                told.TrySetResult();
        }

        link.Changed += Look;
        try
        {
            Look(link.Now);
            await told.Task.WaitAsync(longest, time, cancellation).ConfigureAwait(false);
            return true;
        }
        catch (TimeoutException)
        {
            return false;
        }
        finally
        {
            link.Changed -= Look;
        }
    }

    /// <summary>Waits for the first state after the link has come into step.</summary>
    public static Task<bool> HeardAsync(this IControllerLink link, TimeProvider time, CancellationToken cancellation) =>
        link.UntilAsync(now => now.Gate.Report is not null || !now.Gate.LinkInStep, TimeSpan.FromSeconds(3), time, cancellation);
}
