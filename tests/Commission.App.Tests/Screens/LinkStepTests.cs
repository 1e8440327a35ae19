using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>Steps over the link on the screens that lead to a trusted position, or try what leads there: the same acts as in plain mode.</summary>
public sealed class LinkStepTests : KnownScreens
{
    public LinkStepTests() => KnownMachine.Pass(Journal, KnownMachine.ReadyChecks.Except(["P27"]));

    /// <summary>P27 is not passed yet: only the test itself may home, and it leaves the position as untrusted as it was.</summary>
    [Fact]
    public void The_watched_homing_test_is_carried_out_on_the_screens_and_leaves_the_position_untrusted()
    {
        using var window = Of(Journal, Clock, "  - {name: go, move: {text: One move., moves: [{home: watched}]}}");
        Link(window);
        window.Type("b");
        window.Type("\ns\n");
        Until(window, "This is the test of the switches: the position is not trusted");
        Confirm(window, "h", "Then look.");
        Assert.Contains(Journal.Entries(), entry => entry.Body is EntryBody.Moved { Step: "go" });
        Assert.Contains("NOT TRUSTED", window.Rows[22], StringComparison.Ordinal);
    }
}
