using System.Text;
using Commission.Tests;
using Commission.Workshop.Screens;

namespace Commission.App.Tests.Screens;

/// <summary>Pictures of the real program for those who have not opened it yet. They are made here, so they cannot go stale. UPDATE_GOLDEN=1 makes them anew.</summary>
public sealed class ScreenPictureTests : KnownScreens
{
    [Fact]
    public void The_pictures_of_a_run_are_those_of_the_program()
    {
        using var window = Open();
        Same("bench", window.Desk, Look.Lamp);
        window.Type("\n");
        Same("route-card", window.Desk, Look.Lamp);
        window.Type("s\ns");
        Story.Read(window, 6);
        Same("readings", window.Desk, Look.Lamp);
        Same("readings-daylight", window.Desk, Look.Daylight);
        Story.Read(window, 4);
        window.Type("s");
        Same("finding", window.Desk, Look.Lamp);
    }

    private static void Same(string name, ISheetDesk desk, Look look) => Same(name, SheetFrame.Rows(desk.Show(80, 24), 80, 24), look);

    /// <summary>Compares a picture with the kept one.</summary>
    /// <param name="name">Its file without the ending.</param>
    /// <param name="rows">The rows of the window.</param>
    /// <param name="look">The look they are shown in.</param>
    internal static void Same(string name, IReadOnlyList<Line> rows, Look look)
    {
        var svg = ScreenPicture.Svg(rows, look);
        var file = Repository.At("shared", "screens", name + ".svg");
        if (Environment.GetEnvironmentVariable("UPDATE_GOLDEN") == "1")
        {
            File.WriteAllText(file, svg, new UTF8Encoding(false));
            return;
        }

        Assert.True(File.Exists(file), $"{name} was never made: run once with UPDATE_GOLDEN=1");
        Assert.Equal(File.ReadAllText(file).ReplaceLineEndings("\n"), svg);
    }
}
