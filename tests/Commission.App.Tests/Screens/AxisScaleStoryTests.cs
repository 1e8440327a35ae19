using System.Text.RegularExpressions;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>A whole run by keys alone, on the practice machine, at 80 by 24.</summary>
public sealed partial class AxisScaleStoryTests : MemoryScreens
{
    public AxisScaleStoryTests()
        : base(StoreNature.Practice)
    {
    }

    [Fact]
    public void A_whole_run_of_axis_scale_finds_the_seeded_truth_inside_U()
    {
        using var window = Open();
        Assert.StartsWith(" PRACTICE  Heron / bench", window.Rows[0], StringComparison.Ordinal);
        ToReadings(window);
        while (window.Text.Contains("reading ", StringComparison.Ordinal) && Count().IsMatch(window.Rows[0]))
        {
            Assert.Contains("PRACTICE", window.Rows[0], StringComparison.Ordinal);
            Assert.DoesNotContain("ppm", window.Text, StringComparison.Ordinal);
            var before = window.Rows[0];
            window.Type(Story.Look(window) + "\n");
            if (window.Text.Contains("A slip?", StringComparison.Ordinal))
                window.Type("o");
            Assert.NotEqual(before, window.Rows[0]);
        }

        Finish(window);
        Assert.Equal("Y", KnownMachine.FoundInsideU(Ledger, AxisName.Y).Axis);
        Assert.Contains("scale Y = ", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_reading_is_corrected_and_left_out_and_both_stay_in_the_journal()
    {
        using var window = Open();
        ToReadings(window);
        window.Type(Story.Look(window) + "\n");
        window.Type("r");
        window.Type(Story.Look(window) + "\n");
        window.Type("e");
        window.Type("jaw slipped\n");
        var ledger = Ledger;
        Assert.Equal(2, ledger.Readings.Count);
        Assert.IsType<ReadingStanding.Superseded>(ledger.Readings.Values.First().Standing);
        Assert.Equal("jaw slipped", Assert.IsType<ReadingStanding.Excluded>(ledger.Readings.Values.Last().Standing).Reason);
    }

    [Fact]
    public void U_goes_back_reading_by_reading_and_undoes_what_was_left_out()
    {
        using var window = Open();
        ToReadings(window);
        window.Type("u");
        Assert.Contains("One sheet back", window.Text, StringComparison.Ordinal);
        window.Type("s");
        Story.Read(window, 2);
        window.Type("u");
        Assert.Contains("reading 2 of", window.Rows[0], StringComparison.Ordinal);
        Assert.Contains("taken back, kept in the log. Read it again.", window.Text, StringComparison.Ordinal);
        window.Type("u");
        Assert.Contains("reading 1 of", window.Rows[0], StringComparison.Ordinal);
        Story.Read(window, 2);
        window.Type("e");
        window.Type("jaw slipped\n");
        window.Type("u");
        Assert.Contains("It counts again; both entries stay in the log.", window.Text, StringComparison.Ordinal);
        var ledger = Ledger;
        Assert.Equal([false, false, true, true], ledger.Readings.Values.Select(reading => reading.Counts));
    }

    [Fact]
    public void A_reading_of_the_run_under_way_is_not_left_out_past_it()
    {
        using var window = Open();
        ToReadings(window);
        Story.Read(window, 2);
        window.Type("l");
        window.Type("e");
        Assert.Contains("which is under way", window.Text, StringComparison.Ordinal);
        Assert.All(Ledger.Readings.Values, reading => Assert.True(reading.Counts));
    }

    [Fact]
    public void A_caliper_that_types_is_taken_by_the_cell_and_follows_nothing_elsewhere()
    {
        using var window = Open();
        window.Type("20.01\n", gapMs: 2);
        Assert.Contains("A reading arrived, 20.01, and nothing here takes one. It was not used.", window.Text, StringComparison.Ordinal);
        Assert.StartsWith(" PRACTICE  Heron / bench", window.Rows[0], StringComparison.Ordinal);
        window.Advance(300);
        ToReadings(window);
        window.Type(Story.Look(window) + "\n", gapMs: 2);
        Assert.Single(Ledger.Readings);
    }

    [Fact]
    public void A_half_typed_number_is_still_in_its_cell_after_a_look_at_another_place()
    {
        using var window = Open();
        ToReadings(window);
        window.Type("12.3");
        window.Type("k");
        Assert.Contains(" / kit", window.Rows[0], StringComparison.Ordinal);
        window.Type("w");
        Assert.Contains("[   12.3_ ] mm", window.Text, StringComparison.Ordinal);
    }

    private Headless Open() => On(PracticeStore.Options(Journal, KnownMachine.Seed));

    private static void ToReadings(Headless window)
    {
        window.Press(Key.Enter, Key.CursorDown, Key.Enter);
        window.Type("s");
        for (var i = 0; i < 12 && !Count().IsMatch(window.Rows[0]); i++)
            window.Type(window.Rows[20].Contains("S means", StringComparison.Ordinal) ? "s" : "\n");
        Assert.Matches(Count(), window.Rows[0]);
    }

    private static void Finish(Headless window)
    {
        for (var i = 0; i < 8 && !window.Text.Contains("Enter bench", StringComparison.Ordinal); i++)
            window.Type(window.Rows[20].Contains("S means", StringComparison.Ordinal) ? "s" : window.Text.Contains("O leave as is", StringComparison.Ordinal) ? "o" : "\n");
    }

    [GeneratedRegex(@"reading \d+ of \d+")]
    private static partial Regex Count();
}
