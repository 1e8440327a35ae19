using System.Diagnostics;
using Commission.Tests;
using Terminal.Gui.Input;
using Xunit;

namespace Commission.App.Tests.Screens;

/// <summary>A window over a link that lives in real time: opened by S, boxes read before their letter is typed.</summary>
internal static class LinkedWindow
{
    public static void Link(Headless window)
    {
        window.Type("c");
        Assert.Contains("//// HAZARD  Opening a port can restart the controller", window.Text, StringComparison.Ordinal);
        window.Press(Key.Enter);
        Assert.Contains("Enter opens no port", window.Text, StringComparison.Ordinal);
        window.Type("s");
        Until(window, "23 settings read");
    }

    // A box is read before its letter is typed.
    public static void Confirm(Headless window, string letter, params string[] shown)
    {
        Until(window, "Press " + letter.ToUpperInvariant());
        do
        {
            Rest(window);
            window.Type(letter, gapMs: 0);
            window.Advance(60);
            Until(window, [.. shown, TooEarly]);
        }
        while (!shown.Any(text => window.Text.Contains(text, StringComparison.Ordinal)));
    }

    // On a busy computer the link may not have had its half second yet: the box stays, and is read on.
    private const string TooEarly = "before the box could be read";

    public static void Until(Headless window, params string[] shown)
    {
        var watch = Stopwatch.StartNew();
        while (!shown.Any(text => window.Text.Contains(text, StringComparison.Ordinal)))
        {
            Assert.True(watch.Elapsed < Patience.Longest, $"Never shown: {string.Join(" or ", shown)}. The screen:\n{window.Text}");
            Pass(window);
        }
    }

    // The link lives in real time; the screen's own clock goes with it.
    public static long Pass(Headless window)
    {
        var watch = Stopwatch.StartNew();
        Thread.Sleep(20);
        var passed = watch.ElapsedMilliseconds;
        window.Advance((int)passed);
        return passed;
    }

    /// <summary>Lets a box be read.</summary>
    public static void Rest(Headless window)
    {
        for (var read = 0L; read < 700;)
            read += Pass(window);
    }
}
