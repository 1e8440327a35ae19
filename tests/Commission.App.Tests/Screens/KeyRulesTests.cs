using Commission.Workshop.Screens.Keys;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>What keys do and never do, wherever one is: the rules that the interaction design states beside its key table.</summary>
public sealed class KeyRulesTests : KnownScreens
{
    private static readonly Key[] Stops = [Key.F9, Key.C.WithCtrl];

    [Fact]
    public void Esc_at_the_bench_does_nothing_and_Q_leaves_from_nowhere_else()
    {
        using var window = Open();
        var bench = window.Text;
        window.Press(Key.Esc, Key.Esc, Key.Esc);
        Assert.Equal(bench, window.Text);
        foreach (var place in "wftcklm")
        {
            window.Type(place + "q");
            Assert.False(window.Desk.Left, $"Q left from {place}");
        }

        window.Press(Key.Esc, Key.Esc);
        window.Type("q");
        Assert.True(window.Desk.Left);
    }

    [Fact]
    public void F9_and_Ctrl_C_say_that_nothing_was_sent_and_never_end_the_program_nor_take_what_is_typed()
    {
        foreach (var stop in Stops)
        {
            using var window = Open();
            window.Type("ln");
            window.Type("nut of Y");
            window.Press(stop);
            Assert.Contains("Nothing was sent", window.Said, StringComparison.Ordinal);
            Assert.Contains("nut of Y_", window.Text, StringComparison.Ordinal);
            window.Press(Key.Esc, Key.Esc, Key.Esc, stop);
            Assert.Contains("Nothing was sent", window.Said, StringComparison.Ordinal);
            Assert.False(window.Desk.Left);
        }
    }

    [Fact]
    public void F1_and_F2_work_in_a_text_field_and_leave_what_was_typed()
    {
        using var window = Open();
        window.Type("ln");
        window.Type("nut of Y");
        foreach (var (key, shown) in ((Key, string)[])[(Key.F1, " / help"), (Key.F2, " / card")])
        {
            window.Press(key);
            Assert.Contains(shown, window.Rows[0], StringComparison.Ordinal);
            window.Press(Key.Esc);
            Assert.Contains("nut of Y_", window.Text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Digits_and_Enter_start_nothing_and_Space_alone_does_nothing()
    {
        using var window = Open();
        window.Type(" ");
        Assert.StartsWith(" PRACTICE  Heron / bench", window.Rows[0], StringComparison.Ordinal);
        window.Type("\n");
        window.Type("7\n20.01\n\n ");
        Assert.Contains(" / work / scale X", window.Rows[0], StringComparison.Ordinal);
        Assert.Contains("Then press S.", window.Text, StringComparison.Ordinal);
        Assert.DoesNotContain(Journal.Entries(), entry => entry.Body is EntryBody.RunStarted { Procedure: "axis-scale" });
    }

    [Fact]
    public void Tab_is_Enter_in_a_cell_and_Esc_clears_it_before_it_leaves()
    {
        using var window = Open();
        window.Type("\ns\ns");
        var shown = Story.Look(window);
        window.Type(shown);
        window.Press(Key.Tab);
        Assert.Single(Ledger.Readings);
        window.Type("99");
        window.Press(Key.Esc);
        Assert.Contains("[       _ ]", window.Text, StringComparison.Ordinal);
        window.Press(Key.Esc);
        Assert.Contains("Heron / bench", window.Rows[0], StringComparison.Ordinal);
        Assert.Single(Ledger.Readings);
    }

    // Two for a question are tested where it is asked.
    [Fact]
    public void STOP_rings_five_bells_where_they_were_chosen()
    {
        using var window = Linked(out var desk);
        desk.SwitchCues();
        desk.TakeBells();
        desk.Do(new KeyAct.Stop("F9"));
        Assert.Equal(5, desk.TakeBells());
        Assert.EndsWith(" / STOP", desk.Show(80, 24).Path, StringComparison.Ordinal);
    }
}
