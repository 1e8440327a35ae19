using Commission.Tests;

namespace Commission.App.Tests.Screens;

/// <summary>Screens kept as files beside the tests. UPDATE_GOLDEN=1 writes them anew; what has changed is then read in the difference.</summary>
internal static class Golden
{
    private static bool Update => Environment.GetEnvironmentVariable("UPDATE_GOLDEN") == "1";

    /// <summary>The screen is the one that was kept.</summary>
    public static void Same(string name, string screen)
    {
        var file = Repository.At("tests", "Commission.App.Tests", "Golden", name + ".txt");
        var shown = string.Join('\n', screen.ReplaceLineEndings("\n").Split('\n').Select(row => row.TrimEnd())).TrimEnd('\n') + "\n";
        if (Update)
        {
            File.WriteAllText(file, shown);
            return;
        }

        Assert.True(File.Exists(file), $"{name} was never kept: run once with UPDATE_GOLDEN=1");
        var kept = File.ReadAllText(file).ReplaceLineEndings("\n");
        Assert.True(kept == shown, $"{name} has changed. Now:\n{shown}\nKept:\n{kept}");
    }

    /// <summary>The screen is the one that was kept, and neither step nor reason is cut at its edge.</summary>
    public static void Same(string name, Headless window)
    {
        var (height, width) = (window.Rows.Length, window.Text.Split('\n')[0].Length);
        var sheet = window.Desk.Show(Math.Max(80, width), Math.Max(24, height));
        Assert.True(sheet.Next.Length <= width - 8, $"{name}: NEXT is cut: {sheet.Next}");
        Assert.True(sheet.Message is not null || sheet.Because.Length <= width - 8, $"{name}: the reason is cut: {sheet.Because}");
        Same(name, window.Text);
    }

    /// <summary>The same window at both sizes, and back at the one it had: what is shown is lost by none of it.</summary>
    /// <param name="name">Name of the screen.</param>
    /// <param name="window">The window.</param>
    /// <param name="kept">What of the text is kept; all of it where null.</param>
    public static void Both(string name, Headless window, Func<string, string>? kept = null)
    {
        var before = window.App.Screen;
        foreach (var (columns, rows) in (ReadOnlySpan<(int, int)>)[(80, 24), (120, 40)])
        {
            window.Resize(columns, rows);
            if (kept is null)
                Same($"{name}-{columns}x{rows}", window);
            else
                Same($"{name}-{columns}x{rows}", kept(window.Text));
        }

        window.Resize(before.Width, before.Height);
    }
}
