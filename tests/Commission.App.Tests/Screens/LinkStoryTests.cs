using Terminal.Gui.Input;
using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>The link on the screens, with the practice controller in the process: opened by S, homed by H, moved by the axis' letter, stopped by any key.</summary>
public sealed class LinkStoryTests : KnownScreens
{
    public LinkStoryTests() => KnownMachine.Pass(Journal, KnownMachine.ReadyChecks);

    [Fact]
    public void Opening_asks_first_homes_by_H_and_moves_by_the_axis_letter_never_by_Enter()
    {
        using var window = Linked(out _);
        Assert.Contains("[STOP F9]", window.Rows[22], StringComparison.Ordinal);
        Assert.Contains("NOT TRUSTED", window.Rows[22], StringComparison.Ordinal);
        // The route card, S, the two steps of setting up: then the homing box comes by itself.
        window.Type("b");
        window.Type("\ns\ns");
        Until(window, "THE MACHINE WILL MOVE");
        // Too early, wrong letters, digits and Enter move nothing; Enter puts the box away.
        window.Type("x", gapMs: 0);
        window.Type("1");
        window.Press(Key.Enter);
        Assert.Contains("Nothing moved", window.Text, StringComparison.Ordinal);
        Assert.DoesNotContain(Journal.Entries(), entry => entry.Body is EntryBody.Moved);
        window.Press(Key.Enter);
        Until(window, "THE MACHINE WILL MOVE");
        Confirm(window, "h", "THE CARRIAGE WILL MOVE");
        Assert.Contains("trusted", window.Rows[22], StringComparison.Ordinal);
        // The way in to the first place comes from its side: one move, one box.
        Confirm(window, "x", "reading 1 of 10 .");
        Assert.Contains("X  hidden", window.Rows[22], StringComparison.Ordinal);
        Assert.Contains(Journal.Entries(), entry => entry.Body is EntryBody.Moved);
    }

    [Fact]
    public void While_it_moves_every_key_is_STOP_and_nothing_is_sent_before_it_was_said_what_happened()
    {
        using var window = Linked(out _, scale: 1);
        Homing(window);
        // The letter that confirmed it does not stop while it is held down; a digit does.
        window.Type("h", gapMs: 100);
        Assert.Contains("EVERY KEY STOPS", window.Text, StringComparison.Ordinal);
        window.Type("7");
        Until(window, "immediate stop sent");
        Assert.StartsWith(" PRACTICE  Heron / STOP", window.Rows[0], StringComparison.Ordinal);
        window.Press(Key.Enter);
        Assert.Contains("Enter does nothing here", window.Text, StringComparison.Ordinal);
        // The board restarts by STOP and needs a moment before it tells its state again.
        Rest(window);
        window.Type("s");
        Assert.Equal("something was hit, jammed or sounded wrong", Ledger.Stops.Last().Body.Answer);
        Assert.Contains(Ledger.Changes, change => change.Told.Body.Change == "crash");
        Assert.Contains("NOT TRUSTED", window.Rows[22], StringComparison.Ordinal);
        Assert.Contains("[!!] suspect", window.Text, StringComparison.Ordinal);
    }

    // Found in use: by the card the sheet of the STOP was left, its question never came again, and homing and trust followed.
    [Fact]
    public void A_stop_is_not_left_without_its_answer_by_card_help_or_a_place()
    {
        using var window = AtTheFirstReading();
        window.Press(Key.F9);
        Until(window, "Also            the controller restarted");
        Until(window, "practice locked", "practice rest");
        Answered(window);
        foreach (var way in (ReadOnlySpan<Key>)[Key.F2, Key.F1])
        {
            window.Press(way);
            window.Type("f");
            Assert.True(window.Said.Contains("First tell what happened: A, S or O.", StringComparison.Ordinal), way + window.Text);
            window.Press(Key.Esc);
            Assert.Contains("/ STOP", window.Rows[0], StringComparison.Ordinal);
        }

        window.Press(Key.F2);
        Assert.Contains("F  findings     after A, S or O", window.Text, StringComparison.Ordinal);
        window.Press(Key.Esc);
        Assert.Empty(Ledger.Stops);
        window.Type("a");
        Assert.Single(Ledger.Stops);
        window.Type("f");
        Assert.Contains("/ findings", window.Rows[0], StringComparison.Ordinal);
    }

    [Fact]
    public void After_a_stop_that_may_have_hit_something_the_bench_leads_to_the_readiness_list_before_the_run_that_was_left()
    {
        using var window = On(KnownMachine.Linked(Journal, scale: 1) with { Procedures = PracticeStore.Shipped("axis-scale", "first-power-up", "readiness") });
        Link(window);
        window.Type("w");
        window.PressUntil(Key.CursorDown, "Axis scale with a caliper, X. Enter opens");
        window.Type("\ns\ns");
        Until(window, "THE MACHINE WILL MOVE");
        Confirm(window, "h", "EVERY KEY STOPS");
        window.Type("7");
        Until(window, "practice locked");
        Rest(window);
        window.Type("s");
        if (window.Text.Contains("More has happened", StringComparison.Ordinal))
            window.Type("s");
        // The step says what comes before its box, and Enter leads there.
        Until(window, "The checks before motion are open. Enter: C has their list.");
        window.Press(Key.Enter);
        Until(window, "are open. Enter opens their list.");
        window.Type("b");
        Assert.Contains("Readiness", window.Rows[20], StringComparison.Ordinal);
        Assert.Contains("suspect", window.Rows[21], StringComparison.Ordinal);
        window.Press(Key.Enter);
        Assert.StartsWith(" PRACTICE  Heron / work / readiness", window.Rows[0], StringComparison.Ordinal);
    }

    [Fact]
    public void With_the_readiness_list_open_nothing_moves_and_the_page_names_what_is_missing()
    {
        using var journal = KnownMachine.Journal(KnownMachine.Clock());
        using var window = On(KnownMachine.Linked(journal));
        Link(window);
        Assert.Contains("Nothing moves yet: P05, P06, P07, P08, P22, P30 must stand as passed.", window.Text, StringComparison.Ordinal);
    }
}
