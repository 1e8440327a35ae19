namespace Commission.App.Tests.Screens;

/// <summary>Slips in distances between marks on the screens: by their size, and where two of one distance contradict each other.</summary>
public sealed class DistanceSlipScreenTests : KnownScreens
{
    private Headless AtReadings()
    {
        var window = AtFirstStep("diagonals", 80, 24);
        for (var i = 0; i < 9 && !window.Text.Contains("reading 1 of 8", StringComparison.Ordinal); i++)
            window.Type(window.Text.Contains("S means", StringComparison.Ordinal) ? "s" : "\n");
        Assert.Contains("reading 1 of 8", window.Text, StringComparison.Ordinal);
        return window;
    }

    [Fact]
    public void A_distance_in_centimetres_is_asked_about_by_its_size_and_A_takes_what_was_meant()
    {
        using var window = AtReadings();
        Assert.DoesNotContain("657", window.Text, StringComparison.Ordinal);
        window.Type("65.75\n");
        Assert.Contains("65.75 lies 591.", window.Text, StringComparison.Ordinal);
        Assert.Contains("the distance that was commanded", string.Join(' ', window.Rows.Select(row => row.Trim())), StringComparison.Ordinal);
        Assert.Contains("A   657.5, the point moved", window.Text, StringComparison.Ordinal);
        window.Type("a");
        Assert.Equal(657.5, Ledger.Readings.Values.Single(reading => reading.Counts).Taken.Body.Value);
        Assert.Contains("reading 2 of 8", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Of_two_that_contradict_each_other_both_rows_are_marked_and_A_reads_the_earlier_again()
    {
        using var window = AtReadings();
        window.Type("657.5\n");
        window.Type("658.0\n");
        window.Type("384.0\n");
        window.Type("538.0\n");
        window.Type("534.0\n");
        Assert.Contains("534.0 lies 4.00 mm from reading 4, 538.0, of the same place; either may be off. A slip?", string.Join(' ', window.Rows.Select(row => row.Trim())), StringComparison.Ordinal);
        Assert.Contains("A   row 4, 538.0, again; it counts no more, this one does", window.Text, StringComparison.Ordinal);
        Assert.Equal(2, window.Rows.Count(row => row.Contains("??", StringComparison.Ordinal)));
        Assert.Contains("A the other again", window.Rows[23], StringComparison.Ordinal);
        window.Type("a");
        Assert.Contains("reading 4 of 8", window.Text, StringComparison.Ordinal);
        window.Type("534.5\n");
        Assert.Contains("reading 6 of 8", window.Text, StringComparison.Ordinal);
        Assert.Equal([657.5, 658.0, 384.0, 534.5, 534.0], Ledger.Readings.Values.Where(reading => reading.Counts).OrderBy(reading => reading.Taken.Body.Cell).Select(reading => reading.Taken.Body.Value));
    }
}
