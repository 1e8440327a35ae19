using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>Before a machine is described: what the card offers, and the way back among the questions.</summary>
public sealed class FirstStepsTests : RealStore
{
    [Fact]
    public void The_card_of_the_first_page_offers_what_works_and_marks_no_place()
    {
        using var window = On(PracticeStore.Options(Store));
        window.Press(Key.F2);
        Assert.DoesNotContain("you are here", window.Text, StringComparison.Ordinal);
        Assert.Contains("W  work         once described", window.Text, StringComparison.Ordinal);
        // The first line that can be chosen is a deed: Enter describes the machine.
        window.Press(Key.Enter);
        Assert.Contains("What is the machine called?", window.Text, StringComparison.Ordinal);
        window.Type("Egret\n");
        window.Press(Key.F2);
        Assert.Contains("B  bench        once described", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Esc_goes_back_to_the_question_before_with_its_answer()
    {
        using var window = On(PracticeStore.Options(Store));
        window.Type("\nEgret\n600,5\n");
        window.Press(Key.Esc);
        Assert.Contains("[ 600,5_", window.Text, StringComparison.Ordinal);
        window.Press(Key.Enter);
        Assert.Contains("question 2 of 7", window.Rows[0], StringComparison.Ordinal);
        Assert.DoesNotContain("This one is needed", window.Text, StringComparison.Ordinal);
        window.Type("580\n90\n");
        window.Press(Key.CursorDown);
        var chosen = window.Rows.Single(row => row.StartsWith(">>", StringComparison.Ordinal));
        window.Press(Key.Enter, Key.Esc);
        Assert.Equal(chosen, window.Rows.Single(row => row.StartsWith(">>", StringComparison.Ordinal)));
    }

    [Fact]
    public void Backspace_in_an_empty_cell_goes_one_question_back_and_held_down_no_further()
    {
        using var window = On(PracticeStore.Options(Store));
        window.Type("\nEgret\n600\n");
        window.Press(Key.Backspace);
        Assert.Contains("[ 600_", window.Text, StringComparison.Ordinal);
        window.Press(Key.Backspace, Key.Backspace, Key.Backspace, Key.Backspace, Key.Backspace);
        Assert.Contains("How far does X travel?", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_travel_that_can_hardly_be_is_asked_about_once_and_powers_of_ten_are_no_travel()
    {
        using var window = On(PracticeStore.Options(Store));
        window.Type("\nEgret\n4e2\n");
        Assert.Contains("4e2 is not written as a length is read.", window.Said, StringComparison.Ordinal);
        window.Press(Key.Esc);
        window.Type("600\n1.234\n");
        Assert.Contains("Y: a travel of 1.234 mm is shorter than that of nearly all routers. A slip?", window.Said, StringComparison.Ordinal);
        window.Press(Key.Esc);
        window.Type("580\n");
        window.Type("25\n");
        Assert.Contains("with 25 mm the travel of X is 24 times that of Z", window.Said, StringComparison.Ordinal);
        window.Press(Key.Esc);
        window.Type("1234\n");
        Assert.Contains("with 1234 mm the travel of Z, 1234 mm, is longer than that of Y, 580 mm. A slip?", window.Said, StringComparison.Ordinal);
        window.Type("\n");
        Assert.Contains("question 3 of 7", window.Rows[0], StringComparison.Ordinal);
    }

    [Fact]
    public void With_a_belt_its_pitch_and_teeth_are_asked_and_no_grade()
    {
        using var window = On(PracticeStore.Options(Store));
        window.Type("\nEgret\n600\n580\n90\n");
        window.Press(Key.CursorDown, Key.Enter);
        Assert.Contains("travel on Z?", window.Text, StringComparison.Ordinal);
        window.Press(Key.Enter);
        Assert.Contains("For a belt: its pitch times the teeth of the pulley", window.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("For a screw", window.Text, StringComparison.Ordinal);
        window.Type("40\n");
        window.Type("40\n");
        Assert.Contains("For a screw", window.Text, StringComparison.Ordinal);
        window.Type("5\n");
        // X and Y have belts, Z a screw: only its grade is asked for.
        Assert.Contains("What grade is the screw of Z?", window.Text, StringComparison.Ordinal);
        window.Press(Key.CursorDown, Key.CursorDown, Key.Enter);
        Assert.Contains("question 6 of 7", window.Rows[0], StringComparison.Ordinal);
        window.Type("\n\n\n");
        window.Press(Key.Enter);
        var machine = Ledger.Machines["Egret"].Description;
        Assert.Equal((DriveKind.Belt, DriveKind.Belt, DriveKind.Screw), (machine.X.Drive, machine.Y.Drive, machine.Z.Drive));
        Assert.Equal((null, null, (int?)7), (machine.X.Grade, machine.Y.Grade, machine.Z.Grade));
    }

    [Fact]
    public void With_screws_the_grade_of_Z_is_asked_apart_from_that_of_X_and_Y()
    {
        using var window = On(PracticeStore.Options(Store));
        window.Type("\nEgret\n600\n580\n90\n");
        window.Press(Key.Enter, Key.Enter);
        window.Type("5\n5\n4\n");
        Assert.Contains("What grade is the screw of X and Y?", window.Text, StringComparison.Ordinal);
        window.Press(Key.CursorDown, Key.CursorDown, Key.Enter);
        Assert.Contains("What grade is the screw of Z?", window.Text, StringComparison.Ordinal);
        window.Press(Key.CursorDown, Key.Enter);
        Assert.Contains("question 6 of 7", window.Rows[0], StringComparison.Ordinal);
    }

    [Fact]
    public void A_belt_on_Z_alone_is_asked_for_no_grade()
    {
        using var window = On(PracticeStore.Options(Store));
        window.Type("\nEgret\n600\n580\n90\n");
        window.Press(Key.Enter, Key.CursorDown, Key.Enter);
        window.Type("5\n5\n40\n");
        window.Press(Key.Enter);
        Assert.Contains("question 6 of 7", window.Rows[0], StringComparison.Ordinal);
    }

    [Fact]
    public void The_bench_names_the_line_that_copies_the_store()
    {
        Store.Append(new EntryBody.MachineDescribed(Practice.Machines.HeronMachine.Description, Retired: false) { Machine = "Heron" }).Require();
        using var window = On(PracticeStore.Options(Store));
        Assert.Contains("M, Enter, line 8: copy it.", window.Text, StringComparison.Ordinal);
        window.Type("m\n");
        window.Press([.. Enumerable.Repeat(Key.CursorDown, 7)]);
        Assert.Contains("8 of 19", window.Text, StringComparison.Ordinal);
        Assert.Contains("Copy the store elsewhere. Enter begins it.", window.Text, StringComparison.Ordinal);
    }
}
