using Terminal.Gui.Input;
using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>Between two moves over the link: a called number is read back before a box covers it, and a box gives way to taking a reading back.</summary>
public sealed class LinkReadBackTests : KnownScreens
{
    public LinkReadBackTests() => KnownMachine.Pass(Journal, KnownMachine.ReadyChecks);

    [Fact]
    public void Where_numbers_are_called_the_box_of_the_next_move_comes_by_Enter_once_the_number_was_read_back()
    {
        using var window = AtTheFirstReading();
        window.Type("gg");
        window.Type(Story.Look(window) + "\n");
        Assert.Contains("Enter draws the box of the next move.", window.Rows[20], StringComparison.Ordinal);
        Assert.Contains("read back (1, ", window.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("WILL MOVE", window.Text, StringComparison.Ordinal);
        // Put away, the box leaves the same sheet.
        window.Press(Key.Enter);
        Until(window, "THE CARRIAGE WILL MOVE");
        window.Press(Key.Esc);
        Assert.Contains("read back (1, ", window.Text, StringComparison.Ordinal);
        // Taken back, the machine stands at the place still: it is read again without a move.
        window.Type("r");
        Until(window, "reading 1 of 10");
        Assert.Single(Ledger.Readings);
        Assert.Contains("taken back", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void U_in_the_box_of_the_next_move_voids_it_and_takes_the_last_reading_back()
    {
        using var window = AtTheFirstReading();
        window.Type(Story.Look(window) + "\n");
        Until(window, "THE CARRIAGE WILL MOVE");
        var moved = Journal.Entries().Count(entry => entry.Body is EntryBody.Moved);
        Assert.Contains("U undo", window.Rows[23], StringComparison.Ordinal);
        window.Press(Key.Backspace);
        Assert.Contains("U puts it away", window.Text, StringComparison.Ordinal);
        window.Type("u");
        Until(window, "taken back, kept in the log");
        Assert.DoesNotContain("reading 2 of 10", window.Rows[0], StringComparison.Ordinal);
        // The place is come to anew from its side: a box of its own, and nothing has moved by that.
        Assert.Contains("reading 1 of 10", window.Rows[0], StringComparison.Ordinal);
        Assert.Equal(moved, Journal.Entries().Count(entry => entry.Body is EntryBody.Moved));
    }

    [Fact]
    public void In_the_first_box_there_is_nothing_to_take_back()
    {
        using var window = Linked(out _);
        window.Type("b\ns\ns");
        Confirm(window, "h", "THE CARRIAGE WILL MOVE");
        Assert.DoesNotContain("U undo", window.Rows[23], StringComparison.Ordinal);
    }

    // Found in use: the box of X said that the gantry moves, where it is the carriage on it, and the wrong part was watched.
    [Theory]
    [InlineData(AxisName.Y, "THE CARRIAGE WILL MOVE")]
    [InlineData(AxisName.X, "THE GANTRY WILL MOVE")]
    [InlineData(null, "AXIS X WILL MOVE")]
    public void The_box_names_the_part_that_moves(AxisName? along, string announced)
    {
        var machine = Ledger.Machines["Heron"].Description;
        Journal.Append(new EntryBody.MachineDescribed(machine with { GantryAxis = along }, Retired: false) { Machine = "Heron" }).Require();
        using var window = Linked(out _);
        window.Type("b\ns\ns");
        Confirm(window, "h", announced);
        Assert.Contains("axis X", window.Text, StringComparison.Ordinal);
    }
}
