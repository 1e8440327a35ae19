using Commission.Workshop.Screens;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>Windows of every size on a known machine: a large one is used, and none loses what was shown or typed.</summary>
public sealed class SizesTests : KnownScreens
{
    [Fact]
    public void A_window_of_200_by_60_is_used_by_bench_readings_finding_and_trend()
    {
        using var window = Open(200, 60);
        Golden.Same("bench-known-200x60", window);
        window.Type("\ns\ns");
        Story.Read(window, 6);
        Golden.Same("readings-seventh-200x60", window);
        Story.Read(window, 4);
        window.Type("s");
        Golden.Same("finding-200x60", window);
        window.Type("g");
        Golden.Same("picture-200x60", window);
        window.Press(Key.Esc);
        window.Type("t\n");
        Golden.Same("trend-series-200x60", window);
    }

    // Found in use: lists, steps and cards stood in the upper left of a large window, and the rest of it was blank.
    [Theory]
    [InlineData("the list of the work", "w", "HAZARD")]
    [InlineData("a route card", "w>", "WHAT GOOD DATA LOOK LIKE")]
    [InlineData("findings", "R f", "WHY|LEAVE IT")]
    [InlineData("trend", "R t", "Now: ")]
    [InlineData("kit", "k", "source: ")]
    [InlineData("machine", "m", "THIS SHEET")]
    [InlineData("controller", "c", "THIS SHEET")]
    [InlineData("deeds", "m>", "THIS LIST")]
    [InlineData("a change", "la", "STALE BY THAT")]
    [InlineData("a step", ">s", "THE WAY, ")]
    public void A_large_window_shows_beside_a_sheet_what_is_chosen_comes_or_is_to_be_minded(string page, string way, string shown)
    {
        foreach (var (width, height) in ((int, int)[])[(120, 40), (200, 60)])
        {
            var rows = EveryKeyTests.DeskAt(way).Show(width, height).Body;
            var beside = string.Join('\n', rows.Where(line => line.Text.Length > 83).Select(line => line.Text[83..]));
            Assert.Matches(shown, beside);
            Assert.All(rows, line => Assert.True(line.Text.Length < width, $"{page}: {line.Text}"));
            Assert.True(rows.Length <= SheetFrame.BodyRows(height), page);
            // What stands in the smallest window stands in the same place; only how many lines there are is not told where all are seen.
            var small = EveryKeyTests.DeskAt(way).Show(80, 24).Body;
            Assert.All(small.Zip(rows).Skip(1).Take(7), pair => Assert.StartsWith(pair.First.Text.TrimEnd(), pair.Second.Text, StringComparison.Ordinal));
            Assert.DoesNotContain(small, line => line.Text.Length > 80);
        }
    }

    [Fact]
    public void The_log_of_the_largest_window_tells_the_chosen_entry_beside_it()
    {
        var rows = EveryKeyTests.DeskAt("R l").Show(200, 60).Body;
        Assert.Contains(rows, line => line.Text.Contains("ENTRY ", StringComparison.Ordinal));
    }

    // Found on the way: where more rows are shown than in the smallest window a click chose another line.
    [Fact]
    public void A_click_on_a_row_of_a_list_in_a_tall_window_chooses_that_row()
    {
        using var window = Open(120, 40);
        window.Type("la");
        window.Press([.. Enumerable.Repeat(Key.CursorDown, 20)]);
        var row = Array.FindIndex(window.Rows, line => line.Contains("Belt or rack retensioned", StringComparison.Ordinal));
        window.Click(10, row);
        Assert.StartsWith(">> Belt or rack retensioned", window.Rows[row], StringComparison.Ordinal);
    }

    [Theory]
    [InlineData('b')]
    [InlineData('w')]
    [InlineData('f')]
    [InlineData('t')]
    [InlineData('c')]
    [InlineData('k')]
    [InlineData('l')]
    [InlineData('m')]
    public void A_window_that_changes_its_size_at_any_place_loses_nothing_of_it_nor_a_half_typed_number(char place)
    {
        using var window = Open();
        window.Type("\ns\ns12.3");
        Sizes(window);
        Assert.Contains("[   12.3_ ] mm", window.Text, StringComparison.Ordinal);
        window.Type(place.ToString());
        Sizes(window);
        window.Type("w");
        Assert.Contains("[   12.3_ ] mm", window.Text, StringComparison.Ordinal);
        Assert.Empty(Ledger.Readings);
    }

    [Fact]
    public void The_handbooks_page_of_a_step_is_one_key_away()
    {
        using var window = Open(80, 60);
        window.Type("\ns\ns");
        window.Press(Key.F1);
        Assert.Contains("The handbook:", window.Text, StringComparison.Ordinal);
        Assert.Contains(Core.Reports.HandbookPages.Lines(Core.Reports.HandbookPages.NameOf("axis-scale")!)[0], window.Text, StringComparison.Ordinal);
    }

    private static void Sizes(Headless window)
    {
        var before = window.Text;
        foreach (var (width, height) in new[] { (200, 60), (120, 40), (61, 21), (10, 3), (80, 24) })
        {
            window.Resize(width, height);
            Assert.True(width >= 80 || window.Text.TrimStart().StartsWith("Make the"[..Math.Min(8, width)], StringComparison.Ordinal), window.Text);
        }

        Assert.Equal(before, window.Text);
    }
}
