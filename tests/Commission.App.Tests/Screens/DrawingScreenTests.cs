using Commission.Core.Procedures;
using Commission.Tests;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>A step with a drawing: below the first line where the window has room for all of the step, and over it with D in any case.</summary>
public sealed class DrawingScreenTests : KnownScreens
{
    [Theory]
    [InlineData("tram", 80, 24)]
    [InlineData("tram", 120, 40)]
    [InlineData("diagonals", 80, 24)]
    [InlineData("runout", 80, 24)]
    [InlineData("square-reversal", 80, 24)]
    [InlineData("z-square", 80, 24)]
    [InlineData("distance-network", 80, 24)]
    [InlineData("backlash", 80, 24)]
    [InlineData("axis-scale", 120, 40)]
    public void The_drawing_stands_in_the_step_below_its_first_line(string procedure, int width, int height)
    {
        using var window = AtFirstStep(procedure, width, height);
        // Where a window is wide the way stands beside it.
        var rows = window.Rows.Select(row => row.Length > 80 ? row[..80] : row).ToList();
        var drawing = DrawingOf(procedure);
        var at = rows.FindIndex(row => row.TrimEnd() == " " + drawing[0]);
        Assert.True(at > 2, window.Text);
        Assert.Equal(drawing.Select(row => (" " + row).TrimEnd()), rows.Skip(at).Take(drawing.Length).Select(row => row.TrimEnd()));
        Assert.Contains("D picture in words", window.Text, StringComparison.Ordinal);
        if (procedure == "tram")
            Golden.Same($"step-drawing-{width}x{height}", window);
    }

    [Theory]
    [InlineData(80, 24)]
    [InlineData(120, 40)]
    public void D_says_the_drawing_in_words_and_Enter_leads_back_to_the_step_that_is_not_answered(int width, int height)
    {
        using var window = AtFirstStep("tram", width, height);
        var step = window.Text;
        window.Type("d");
        Golden.Same($"step-drawing-words-{width}x{height}", window);
        window.Press(Key.Enter);
        Assert.Equal(step, window.Text);
    }

    // A step with a drawing has at most five lines, so that it stands in the smallest window, with the statement that ends it.
    [Fact]
    public void The_step_of_the_scale_stands_with_its_drawing_and_its_statement_in_the_smallest_window()
    {
        using var window = AtFirstStep("axis-scale");
        Assert.All(DrawingOf("axis-scale"), row => Assert.Contains(row, window.Text, StringComparison.Ordinal));
        Assert.Contains("Both blocks are tight.", window.Text, StringComparison.Ordinal);
        Assert.Contains("S done, it is so", window.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("more lines", window.Text, StringComparison.Ordinal);
        window.Type("d");
        Assert.Contains("Two blocks stand face to face on a line along X", window.Text, StringComparison.Ordinal);
    }

    private static string[] DrawingOf(string procedure) =>
        [.. ShippedProcedures.Read(procedure).AllSteps.OfType<Step.Instruct>().First(step => step.Drawing is not null).Drawing!.Rows.Select(row => row.Replace("{axis}", "X", StringComparison.Ordinal))];
}
