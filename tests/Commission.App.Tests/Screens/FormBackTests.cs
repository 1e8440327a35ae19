using Commission.Adapters.Files;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>Esc and Backspace among the questions of a form: one answer back, and what was answered stays; and where Esc leads from a route card.</summary>
public sealed class FormBackTests : RealStore
{
    public FormBackTests() => Store.Append(new EntryBody.MachineDescribed(new Machine { Name = "Heron", TravelMm = [420, 580, 90] }, Retired: false) { Machine = "Heron" }).Require();

    [Fact]
    public void Esc_goes_one_answer_back_and_keeps_what_was_answered_on_both_sides()
    {
        using var window = Open();
        window.Type("ka\n");
        window.Type("shed caliper\n0.05\n0.02\n");
        Assert.Contains("question 4 of 5", window.Rows[0], StringComparison.Ordinal);
        Assert.Contains("Esc goes one answer back", window.Rows[21], StringComparison.Ordinal);
        window.Press(Key.Esc, Key.Esc);
        Assert.Contains("question 2 of 5", window.Rows[0], StringComparison.Ordinal);
        Assert.Contains("[ 0.05_", window.Text, StringComparison.Ordinal);
        window.Press(Key.Esc);
        Assert.Contains("[ shed caliper_", window.Text, StringComparison.Ordinal);
        // Forward again with Enter alone: nothing has to be typed twice.
        window.Type("\n\n\n\n\n");
        var kept = Ledger.Instruments["shed caliper"].Body.Description;
        Assert.Equal((0.05, 0.02), (kept.LimitMm, kept.ResolutionMm));
        Assert.StartsWith(" Heron / kit ", window.Rows[0], StringComparison.Ordinal);
    }

    [Fact]
    public void Esc_clears_what_is_being_typed_before_it_goes_back_and_on_the_first_question_goes_to_the_catalogue()
    {
        using var window = Open();
        window.Type("ka");
        window.Press(Key.CursorDown);
        var catalogue = window.Text;
        window.Press(Key.Enter);
        var offered = window.Rows.Single(row => row.StartsWith("    [ ", StringComparison.Ordinal));
        window.Type("mine");
        window.Press(Key.Esc);
        Assert.Equal(offered, window.Rows.Single(row => row.StartsWith("    [ ", StringComparison.Ordinal)));
        Assert.Contains("Esc puts all of it away", window.Rows[21], StringComparison.Ordinal);
        window.Press(Key.Esc);
        Assert.Equal(catalogue, window.Text);
        window.Press(Key.Esc);
        Assert.StartsWith(" Heron / kit ", window.Rows[0], StringComparison.Ordinal);
    }

    [Fact]
    public void The_readings_of_a_check_stay_while_the_length_of_the_block_is_mended_and_Backspace_held_down_goes_no_further_than_the_field()
    {
        using var window = Open();
        window.Type("ka\ncaliper\n\n\n\n\n");
        window.Type("v120\n\n125.00\n");
        Assert.Contains("125 mm lies 5 mm from the block of 120 mm. A slip?", window.Text, StringComparison.Ordinal);
        window.Type("o125.01\n");
        Assert.Contains("Typed so far: 2.", window.Text, StringComparison.Ordinal);
        window.Press(Key.Esc, Key.Esc);
        Assert.Contains("[ 120_", window.Text, StringComparison.Ordinal);
        window.Press(Key.Backspace, Key.Backspace, Key.Backspace, Key.Backspace, Key.Backspace);
        Assert.Contains("question 1 of 3", window.Rows[0], StringComparison.Ordinal);
        window.Type("125\n\n");
        Assert.Contains("Typed so far: 2.", window.Text, StringComparison.Ordinal);
        window.Type("4");
        window.Press(Key.Backspace, Key.Backspace, Key.Backspace);
        Assert.Contains("Typed so far: 2.", window.Text, StringComparison.Ordinal);
        window.Type("125.00\n\n");
        Assert.StartsWith("checked against 125 mm", Ledger.Instruments["caliper"].Body.Description.Source, StringComparison.Ordinal);
    }

    [Fact]
    public void Esc_on_a_route_card_leads_to_where_it_was_opened_and_says_so()
    {
        using var window = Open();
        window.Type("ka\ncaliper\n\n\n\n\n");
        window.Type("s");
        Assert.Contains("/ work / hand study", window.Rows[0], StringComparison.Ordinal);
        Assert.Contains("Esc kit", window.Rows[23], StringComparison.Ordinal);
        window.Press(Key.Esc);
        Assert.StartsWith(" Heron / kit ", window.Rows[0], StringComparison.Ordinal);
        window.Type("w\n");
        Assert.Contains("Esc list", window.Rows[23], StringComparison.Ordinal);
        window.Press(Key.Esc);
        Assert.StartsWith(" Heron / work ", window.Rows[0], StringComparison.Ordinal);
        window.Type("b\n");
        Assert.Contains("Esc bench", window.Rows[23], StringComparison.Ordinal);
        window.Press(Key.Esc);
        Assert.StartsWith(" Heron / bench ", window.Rows[0], StringComparison.Ordinal);
    }

    [Fact]
    public void Where_a_list_has_nothing_to_choose_among_the_arrows_are_not_offered_and_the_card_says_why()
    {
        using var window = Open();
        window.Type("f");
        Assert.DoesNotContain("Up, Down choose", window.Rows[23], StringComparison.Ordinal);
        window.Press(Key.F2);
        Assert.Contains("there is nothing to choose among", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_that_is_there_is_replaced_only_with_A()
    {
        var file = Path.Combine(Folder, "state.md");
        File.WriteAllText(file, "of another machine");
        using var window = Open();
        window.Type("m\n");
        window.PressUntil(Key.CursorDown, ">> Report ");
        window.Type("\n");
        window.Type(file + "\n");
        Assert.Contains("A file of that name is there already. Replace it?", window.Text, StringComparison.Ordinal);
        window.Press(Key.Enter);
        Assert.Contains("Which file?", window.Text, StringComparison.Ordinal);
        Assert.Equal("of another machine", File.ReadAllText(file));
        window.Type("\na");
        Assert.Contains("Written to", window.Said, StringComparison.Ordinal);
        Assert.Contains("Heron", File.ReadAllText(file), StringComparison.Ordinal);
        // What has no form of a report is refused and not asked about.
        window.Type("\n" + Path.Combine(Folder, "journal.txt") + "\n");
        Assert.Contains("names no form of report", window.Said, StringComparison.Ordinal);
    }

    private Headless Open() => On(PracticeStore.Options(Store) with { Files = new TextFiles(), Procedures = PracticeStore.All() });
}
