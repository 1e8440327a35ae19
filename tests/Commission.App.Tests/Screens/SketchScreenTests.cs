using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>Findings with their drawings as the program shows them, from runs of the practice machine, at both sizes.</summary>
public sealed class SketchScreenTests : KnownScreens
{
    [Theory]
    [InlineData(80, 24, "tram")]
    [InlineData(120, 40, "tram")]
    [InlineData(80, 24, "bed-map")]
    [InlineData(120, 40, "bed-map")]
    [InlineData(80, 24, "diagonals")]
    [InlineData(120, 40, "diagonals")]
    public void A_finding_with_its_drawing(int width, int height, string procedure)
    {
        using var window = AtFirstStep(procedure, width, height);
        for (var i = 0; i < 400 && Ledger.Findings.IsEmpty; i++)
            Go(window);
        Assert.False(Ledger.Findings.IsEmpty, window.Text);
        window.Type("f");
        window.Press(Key.Enter);
        Golden.Same($"finding-{procedure}-{width}x{height}", window);
    }

    // What is asked is answered as a careful person does: look and type, confirm, go on.
    private void Go(Headless window)
    {
        var next = string.Join(' ', window.Rows.TakeLast(5));
        if (window.Text.Contains("A slip?", StringComparison.Ordinal))
            window.Type("o");
        else if (next.Contains("S when they are made", StringComparison.Ordinal) || next.Contains("S means", StringComparison.Ordinal))
            window.Type("s");
        else if (window.Text.Contains("V look", StringComparison.Ordinal))
            window.Type(Story.Look(window) + "\n");
        else if (next.Contains("Type the number in", StringComparison.Ordinal))
            window.Type(window.Text.Contains("against its first", StringComparison.Ordinal) ? First + "\n" : "100\n");
        else
            window.Press(Key.Enter);
    }

    private string First => Ledger.Readings.OrderBy(reading => reading.Key).Last(reading => reading.Value.Taken.Body.Place == "0 degrees").Value.Taken.Body.Typed;
}
