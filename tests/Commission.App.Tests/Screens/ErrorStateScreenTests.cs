using Commission.Workshop.Screens;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>The moments at which the program must find its words, each at both sizes: a comma, a key that is not possible now, a caliper that types twice, a change, a crash.</summary>
public sealed class ErrorStateScreenTests : KnownScreens
{
    [Fact]
    public void A_comma_with_two_meanings_is_asked_about()
    {
        using var window = AtReadings();
        window.Type("1,234\n");
        Golden.Both("readings-comma", window);
        Assert.Empty(Ledger.Readings);
    }

    [Fact]
    public void A_key_that_is_not_possible_now_says_why()
    {
        using var window = AtReadings();
        window.Type("h");
        Assert.Contains("H home: ", window.Text, StringComparison.Ordinal);
        Golden.Both("readings-not-now", window);
    }

    [Fact]
    public void What_a_caliper_types_twice_within_a_second_counts_once()
    {
        using var window = AtReadings();
        var shown = Story.Look(window);
        window.Type(shown + "\n", gapMs: 2);
        window.Type(shown + "\n", gapMs: 2);
        Assert.Contains(shown + " arrived twice within a second and counts once.", window.Text, StringComparison.Ordinal);
        Golden.Both("readings-counts-once", window);
        Assert.Single(Ledger.Readings);
    }

    [Fact]
    public void A_finding_that_changes_and_the_value_that_is_told_in_its_run()
    {
        var clock = KnownMachine.Clock();
        using var journal = PracticeStore.Journal(clock);
        StoredPractice.ScaleToChange(journal, clock);
        using var window = new Headless(ScreenProgram.DeskOf(KnownMachine.Options(journal), clock));
        window.Type("f\n");
        Assert.Contains("CHANGE", window.Text, StringComparison.Ordinal);
        Golden.Both("finding-change", window);
        window.Type("w");
        window.Press(Key.CursorDown);
        window.Type("\ns\ns");
        Story.Read(window, 10);
        window.Type("s");
        Assert.Contains(" told: the value the controller holds now [", window.Text, StringComparison.Ordinal);
        Golden.Both("finding-change-told", window);
        // A decimal point that was lost: asked about, and nothing is kept before the answer.
        window.Type("3196\n");
        Assert.Contains("is far from 319.772 (proposed)", window.Text, StringComparison.Ordinal);
        Assert.Matches("^ Enter anew +A .* +O as it stands", window.Rows[23]);
        Golden.Both("finding-change-told-far", window);
        window.Type("\n");
        Assert.DoesNotContain("3196", window.Text, StringComparison.Ordinal);
        Assert.Empty(Core.History.Ledger.From(journal.Entries()).SettingsWritten);
    }

    [Fact]
    public void After_a_crash_what_it_may_have_moved_is_suspect_and_comes_first()
    {
        StoredPractice.Scale(Journal, Clock);
        Clock.Advance(TimeSpan.FromDays(1));
        Journal.Append(new EntryBody.ChangeTold("crash", null, "Z into a clamp") { Machine = "Heron", Operator = "M" }).Require();
        using var window = On(KnownMachine.Options(Journal, [.. PracticeStore.All().Select(procedure => procedure.Id)]));
        Assert.Contains("[!!] suspect", window.Text, StringComparison.Ordinal);
        Assert.Contains("Because: suspect since the crash of 19 Apr", window.Rows[21], StringComparison.Ordinal);
        Golden.Both("bench-suspect", window);
        window.Type("f\n");
        Golden.Both("finding-suspect", window);
    }

    private Headless AtReadings()
    {
        var window = Open();
        window.Type("\ns\ns");
        return window;
    }
}
