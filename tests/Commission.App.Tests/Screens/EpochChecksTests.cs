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

    // Found in use: one key brought back checks, results and homing after a crash, without a question.
    [Theory]
    [InlineData("crash")]
    [InlineData("machine-moved")]
    public void A_change_that_took_trust_away_is_taken_back_only_with_a_reason(string change)
    {
        Journal.Append(new EntryBody.ChangeTold(change, null, "Z into a clamp") { Machine = "Heron" }).Require();
        using var window = Open();
        window.Type("lu");
        Assert.Contains("Why is this entry taken back?", window.Text, StringComparison.Ordinal);
        window.Type("\n");
        Assert.True(Assert.Single(Ledger.Changes).Counts);
        window.Type("it was the vacuum hose\n");
        Assert.False(Assert.Single(Ledger.Changes).Counts);
    }
}
