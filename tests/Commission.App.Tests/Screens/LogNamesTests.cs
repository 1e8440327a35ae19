using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>A reading has one number wherever it is named, with what it is of; what became of an entry stands in its line of the log.</summary>
public sealed class LogNamesTests : KnownScreens
{
    private readonly long run;

    public LogNamesTests()
    {
        run = Journal.Append(new EntryBody.RunStarted { Machine = "Heron", Procedure = "axis-scale", ProcedureHash = "h", Axis = "X" }).Require().Sequence;
        Journal.Append(new EntryBody.RunEnded("aborted", "dinner") { Machine = "Heron", Run = run }).Require();
    }

    private long Reading(int recorded, int row, string typed) => Journal.Append(new EntryBody.ReadingTaken
    {
        Machine = "Heron", Run = run, Recorded = recorded, Step = "scale", Cell = row - 1, Place = "near", Typed = typed, Value = double.Parse(typed, System.Globalization.CultureInfo.InvariantCulture), Unit = "mm",
    }).Require().Sequence;

    private static string Row(Headless window, string part) => window.Rows.Single(row => row.Contains(part, StringComparison.Ordinal));

    // Found in use: recorded 10 on the sheet was reading 15 in the log, without an axis; "reading replaced" named none.
    [Fact]
    public void A_reading_is_named_by_its_row_and_its_axis_and_what_replaced_it_names_it()
    {
        var old = Reading(12, row: 10, "164.51");
        var anew = Reading(13, row: 10, "10.99");
        Journal.Append(new EntryBody.Superseded(old, anew, "read again") { Machine = "Heron", Run = run }).Require();
        using var window = Open();
        window.Type("l");
        Assert.Contains("reading 10 of scale X, near: 10.99 mm", window.Text, StringComparison.Ordinal);
        Assert.Contains("reading 10 of scale X, near replaced: read again", window.Text, StringComparison.Ordinal);
        Assert.EndsWith("  replaced", Row(window, "164.51 mm"), StringComparison.Ordinal);
        Assert.DoesNotContain("reading 13", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_left_out_or_withdrawn_is_marked_in_its_line_and_named_by_what_takes_it_back()
    {
        Reading(1, row: 1, "8.49");
        Journal.Append(new EntryBody.ChangeTold("belt-tensioned", "X", "a notch") { Machine = "Heron" }).Require();
        using var window = Open();
        window.Type("l");
        window.Type("ewas Y\n");
        Assert.Contains("Taken back: change, belt or rack retensioned, X: a notch.", window.Said, StringComparison.Ordinal);
        Assert.Contains(" change, belt or rack retensioned, X: a notch  withdrawn", window.Text, StringComparison.Ordinal);
        Assert.Contains("taken back, was Y: change, belt or rack retensioned, X: a notch", window.Text, StringComparison.Ordinal);
        window.Press(Key.CursorDown);
        window.Press(Key.CursorDown);
        window.Type("eknocked\n");
        Assert.Contains("Left out: reading 1 of scale X, near: 8.49 mm; U undoes that.", window.Said, StringComparison.Ordinal);
        Assert.Contains("near: 8.49 mm  left out", window.Text, StringComparison.Ordinal);
        window.Type("u");
        Assert.DoesNotContain("near: 8.49 mm  left out", window.Text, StringComparison.Ordinal);
    }

    // Found in use: row 24 named U where it undid nothing, and E on what was taken back already.
    [Fact]
    public void U_and_E_stand_in_row_24_only_where_they_do_something_and_the_card_says_why_not()
    {
        using var window = Open();
        foreach (var place in "lftkm")
        {
            window.Type(place.ToString());
            Assert.DoesNotContain("U undo", window.Rows[23], StringComparison.Ordinal);
            window.Type("u");
            Assert.Contains("the last entry cannot be undone: run aborted: dinner", window.Said, StringComparison.Ordinal);
        }

        window.Type("l");
        window.Press(Key.F2);
        Assert.Contains("not now, and why", window.Text, StringComparison.Ordinal);
        Assert.Contains("cannot be undone", window.Text[window.Text.IndexOf("not now", StringComparison.Ordinal)..], StringComparison.Ordinal);
        window.Press(Key.Esc);
        Journal.Append(new EntryBody.ChangeTold("belt-tensioned", "X", "a notch") { Machine = "Heron" }).Require();
        using var after = Open();
        after.Type("l");
        Assert.Contains("U undo", after.Rows[23], StringComparison.Ordinal);
        after.Type("ewas Y\n");
        Assert.DoesNotContain("U undo", after.Rows[23], StringComparison.Ordinal);
        after.Press(Key.CursorDown);
        Assert.DoesNotContain("E take back", after.Rows[23], StringComparison.Ordinal);
        after.Type("e");
        Assert.Contains("it is withdrawn already", after.Said, StringComparison.Ordinal);
    }
}
