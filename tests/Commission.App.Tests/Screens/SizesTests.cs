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
