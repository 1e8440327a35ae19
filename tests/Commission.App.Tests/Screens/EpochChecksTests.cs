namespace Commission.App.Tests.Screens;

/// <summary>The machine's checks after a change that begins a new epoch: the gate asks for them, and so does the bench.</summary>
public sealed class EpochChecksTests : KnownScreens
{
    // Found in use: the list fell from 44/44 to "0/44 in part", and NEXT was a result of an axis.
    [Theory]
    [InlineData("machine-moved", "NEXT >> Readiness. 20 min.", "Because: stale since \"machine moved\" of ")]
    [InlineData("wiring-changed", "NEXT >> First power-up. 180 min.", "Because: stale since \"wiring changed\" of ")]
    public void They_come_before_everything_else(string change, string next, string because)
    {
        KnownMachine.Pass(Journal, KnownMachine.ReadyChecks);
        Journal.Append(new EntryBody.ChangeTold(change, null, "across the shop") { Machine = "Heron" }).Require();
        using var window = On(KnownMachine.Options(Journal, "first-power-up", "readiness", "axis-scale", "stiffness", "backlash", "tram"));
        Assert.Matches("^ power-up list +0/[0-9]+ +[0-9]+ +\\[xx\\] stale", window.Rows[3]);
        Assert.StartsWith(next, window.Rows[20], StringComparison.Ordinal);
        Assert.Contains(because, window.Rows[21], StringComparison.Ordinal);
    }
}
