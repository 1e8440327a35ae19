using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>Before the position is trusted: the controller's page names what comes first, and its keys lead there.</summary>
public sealed class LinkHomingWaitsTests : KnownScreens
{
    [Theory]
    [InlineData("The direction of every axis (P25) comes first.", "P27")]
    [InlineData("The watched slow homing test (P27) comes first.", "P25-x", "P25-y", "P25-z")]
    public void Where_a_check_before_homing_is_open_Enter_leads_to_the_short_list_that_holds_it(string next, params string[] passed) => Leads(next, "first moves", passed);

    // A new machine goes on with its own list.
    [Fact]
    public void Where_the_first_power_up_was_begun_Enter_leads_to_it()
    {
        Journal.Append(new EntryBody.RunStarted { Machine = "Heron", Procedure = "first-power-up", ProcedureHash = "0" }).Require();
        Journal.Append(new EntryBody.RunEnded("put-aside", null) { Machine = "Heron", Run = Ledger.LastSequence }).Require();
        Leads("The direction of every axis (P25) comes first.", "first power-up", []);
    }

    private void Leads(string next, string list, string[] passed)
    {
        KnownMachine.Pass(Journal, ["P05", "P06", "P07", "P08", "P22", "P30", .. passed]);
        using var window = On(KnownMachine.Linked(Journal) with { Procedures = PracticeStore.Shipped("axis-scale", "first-power-up", "readiness", "first-moves") });
        Link(window);
        Until(window, next);
        Assert.Contains("Enter opens its list.", window.Rows[20], StringComparison.Ordinal);
        Assert.Contains("Enter " + list, window.Rows[23], StringComparison.Ordinal);
        Assert.DoesNotContain("H home", window.Rows[23], StringComparison.Ordinal);
        window.Type("h");
        Assert.Contains("something else comes first", window.Text, StringComparison.Ordinal);
        window.Type("\n");
        Assert.Contains("work / " + list, window.Rows[0], StringComparison.Ordinal);
    }
}
