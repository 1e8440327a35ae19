using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.Extensions.Time.Testing;

namespace Commission.App.Tests.Screens;

/// <summary>What a person does again and again: look at the instrument, type what it shows.</summary>
internal static partial class Story
{
    /// <summary>What the simulated instrument shows.</summary>
    public static string Look(Headless window)
    {
        window.Type("v");
        return Shown().Match(window.Text).Groups[1].Value;
    }

    /// <summary>Takes readings; one that is questioned is read again.</summary>
    /// <param name="window">The window.</param>
    /// <param name="count">How many.</param>
    /// <param name="shift">How far the instrument's zero has moved, mm.</param>
    public static void Read(Headless window, int count, double shift = 0) =>
        Read(window, count, shown => (double.Parse(shown, CultureInfo.InvariantCulture) + shift).ToString("F2", CultureInfo.InvariantCulture));

    /// <summary>The same, with all digits as they are shown.</summary>
    public static void ReadAsShown(Headless window, int count) => Read(window, count, shown => shown);

    /// <summary>Begins the scale of X from the bench of a known machine, takes readings, and is cut off.</summary>
    public static void BreakOff(IJournal journal, FakeTimeProvider clock, int readings)
    {
        using var begun = KnownMachine.Window(journal, clock);
        begun.Type("\ns\ns");
        Read(begun, readings);
    }

    /// <summary>A value that keeps a limit: half of a greatest, twice a least, the middle of both.</summary>
    public static string Within(string limit)
    {
        var value = Number().Matches(limit).Select(match => double.Parse(match.Value, CultureInfo.InvariantCulture)).ToList() switch
        {
            [] => 1,
            [var one] => limit.Contains("at most", StringComparison.Ordinal) ? one / 2 : one * 2,
            [var low, var high, ..] => (low + high) / 2,
        };
        return value.ToString("0.####", CultureInfo.InvariantCulture);
    }

    private static void Read(Headless window, int count, Func<string, string> typed)
    {
        const int Most = 20;
        for (var i = 0; i < count; i++)
        {
            var tries = 0;
            do
            {
                if (++tries > Most)
                    Assert.Fail("questioned again and again:\n" + window.Text);
                if (window.Text.Contains("A slip?", StringComparison.Ordinal))
                    window.Type("r");
                window.Type(typed(Look(window)) + "\n");
            }
            while (window.Text.Contains("A slip?", StringComparison.Ordinal));
        }
    }

    [GeneratedRegex(@"The simulated instrument shows (\S+) (?:mm|in)")]
    private static partial Regex Shown();

    [GeneratedRegex(@"\d+(\.\d+)?")]
    private static partial Regex Number();
}
