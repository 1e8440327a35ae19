using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>A plan is chosen among the plans, taken with Enter, read as it stands, and kept by a run that is taken up again.</summary>
public sealed class TakenPlanTests : KnownScreens
{
    [Fact]
    public void A_plan_is_taken_with_Enter_and_the_run_reads_its_places_also_after_a_sudden_end()
    {
        string[] order;
        using (var window = Open())
        {
            window.Type("\np");
            Assert.Contains("NEXT >> Plan A, 21 min. Enter takes it into the work.", window.Text, StringComparison.Ordinal);
            window.Press(Key.CursorDown);
            Assert.Contains("NEXT >> Plan B, ", window.Text, StringComparison.Ordinal);
            window.Type("d");
            order = [.. window.Rows.Where(row => row.Contains(": go to X ", StringComparison.Ordinal))];
            Assert.Equal(10, order.Length);
            window.Press(Key.Esc, Key.Enter);
            Assert.Matches(@" Takes   25 min\. Machine moves: yes, 10 times", window.Text);
            Assert.Contains(" Plan    B: 10 readings, 25 min, U about 280 ppm. P another", window.Text, StringComparison.Ordinal);
            Assert.Empty(Ledger.Readings);
            window.Type("s\ns");
            Assert.Contains("reading 1 of 10", window.Rows[0], StringComparison.Ordinal);
            Story.Read(window, 3);
        }

        using var resumed = Open();
        Assert.Contains("reading 4 of 10", resumed.Text, StringComparison.Ordinal);
        resumed.Press(Key.CursorLeft, Key.CursorDown, Key.CursorLeft, Key.CursorLeft, Key.Enter);
        Assert.Contains("reading 4 of 10", resumed.Rows[0], StringComparison.Ordinal);
        // After the sudden end the caliper's zero is another one; it was set as it was.
        Story.Read(resumed, 7, shift: 0.27);
        resumed.Type("s");
        var ledger = Ledger;
        var made = ledger.Findings.Values.Single(finding => finding.Made.Body.Characteristic == "axis-scale").Made.Body;
        Assert.Equal(10, made.Finding.Used);
        Assert.Equal(order.Select(row => row.Split(", then X ")[1].Split(' ')[0]), made.Readings.Select(sequence => ledger.Readings[sequence].Taken.Body.Given["commanded_mm"].ToString("0.000", System.Globalization.CultureInfo.InvariantCulture)));
    }

    // Found in use: the card told the readings and the U of plan A, of six readings, where the ten of the procedure would be read.
    [Fact]
    public void The_route_card_tells_what_the_readings_give_that_will_be_taken()
    {
        using var window = Open();
        Assert.Contains("NEXT >> Scale X. 25 min.", window.Text, StringComparison.Ordinal);
        window.Type("\n");
        // What the procedure reads itself is plan B: the same minutes, readings and U on the card and among the plans.
        Assert.Contains("Takes   25 min. Machine moves: yes, 10 times along X", window.Text, StringComparison.Ordinal);
        Assert.Contains("Gives   U about 280 ppm. Limit 1250 ppm", window.Text, StringComparison.Ordinal);
        window.Type("p\n");
        Assert.Contains(" Plan    A: 6 readings, 21 min, U about 330 ppm", window.Text, StringComparison.Ordinal);
        Assert.Contains("Takes   21 min. Machine moves: yes, 6 times along X", window.Text, StringComparison.Ordinal);
        window.Type("s\ns");
        Assert.Contains("reading 1 of 6", window.Rows[0], StringComparison.Ordinal);
        window.Type("b");
        Assert.Contains("NEXT >> Go on with scale X where it was left: reading 1 of 6, ", window.Text, StringComparison.Ordinal);
        Assert.Matches("1 of 6, 1[0-9] min left", window.Text);
        window.Type("\nos");
        window.Type("b");
        Assert.Contains("NEXT >> Scale X. 21 min.", window.Text, StringComparison.Ordinal);
        window.Type("w");
        Assert.Contains("X      21  put aside", window.Text, StringComparison.Ordinal);
        window.Type("\n");
        Assert.Contains("Takes   21 min. Machine moves: yes, 6 times along X", window.Text, StringComparison.Ordinal);
        Assert.Contains("Left    put aside", window.Text, StringComparison.Ordinal);
        Assert.Contains("yes, 6 times along X", window.Text, StringComparison.Ordinal);
        Assert.Contains("Gives   U about 330 ppm.", window.Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("backlash", @"Gives   U about 0\.\d+ mm\. Limit 0\.15 mm")]
    [InlineData("diagonals", @"Gives   U about 0\.\d+ mrad\. Limit 1 mrad")]
    [InlineData("tram", @"Gives   U about 0\.\d+ mrad\. Limit 0\.5 mrad")]
    [InlineData("plate", @"Gives   Limit 1 mrad\. P plan")]
    public void Where_it_cannot_be_foretold_the_limit_stands_alone(string procedure, string gives)
    {
        using var window = On(KnownMachine.Options(Journal, procedure), 120, 40);
        window.Type("w\n");
        Assert.True(System.Text.RegularExpressions.Regex.IsMatch(window.Text, gives), window.Text);
    }

    [Fact]
    public void What_a_plan_needs_and_the_kit_has_not_is_named_and_nothing_is_taken()
    {
        using var window = Open();
        window.Type("\np");
        window.PressUntil(Key.CursorDown, "Not in the kit yet");
        window.Type("\n");
        Assert.Contains("put it into the kit first, K then A", window.Said, StringComparison.Ordinal);
        Assert.Contains(" / plans / scale X", window.Rows[0], StringComparison.Ordinal);
    }

    [Fact]
    public void A_procedure_that_reads_marks_of_its_own_says_why_no_other_plan_is_taken()
    {
        using var window = On(KnownMachine.Options(Journal, "diagonals"));
        window.Type("w\np");
        Assert.Contains("this procedure reads the places it was made for", window.Text, StringComparison.Ordinal);
        window.Type("\n");
        Assert.Contains(" / work / diagonals", window.Rows[0], StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(80, 24)]
    [InlineData(200, 60)]
    public void A_route_card_uses_the_room_and_a_step_that_is_long_is_not_cut(int width, int height)
    {
        using var window = On(KnownMachine.Options(Journal, "stiffness"), width, height);
        window.Type("w");
        window.Press(Key.CursorDown);
        window.Type("\n");
        Assert.DoesNotContain("more: F1", window.Text, StringComparison.Ordinal);
        Assert.Contains("STOP", window.Text, StringComparison.Ordinal);
        window.Type("s\ns");
        Assert.Contains("NEXT >> Y 290 mm, from below: go to Y 285.000, then Y 290.000. Read. Enter.", window.Rows[height - 4], StringComparison.Ordinal);
    }
}
