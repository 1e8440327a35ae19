using System.Text.RegularExpressions;
using Commission.Workshop.Screens.Sheets;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>The screens of a machine that is kept in inches: no length is left in millimetres.</summary>
public sealed partial class InchScreenTests : KnownScreens
{
    [Fact]
    public void From_the_bench_through_a_run_to_its_trend_no_length_is_left_in_millimetres()
    {
        KnownMachine.InInches(Journal);
        using var window = Open();
        void Keep(string name)
        {
            Golden.Both($"inch-{name}", window);
            foreach (var (width, height) in (ReadOnlySpan<(int, int)>)[(80, 24), (120, 40), (200, 60)])
            {
                window.Resize(width, height);
                // The controller compensates in its own unit.
                Assert.DoesNotMatch(Millimetres(), name is "machine" ? Compensation().Replace(window.Text, "") : window.Text);
            }

            window.Resize(80, 24);
        }

        Keep("bench");
        window.Press(Key.Enter);
        Keep("overview");
        window.Type("p");
        Keep("plans");
        window.Press(Key.Esc);
        window.Type("s\ns");
        Keep("readings-first");
        Story.ReadAsShown(window, 6);
        Keep("readings-seventh");
        window.Type("g");
        Keep("readings-large");
        window.Type("gg6.4\n");
        Keep("readings-slip");
        Assert.Contains("A slip?", window.Text, StringComparison.Ordinal);
        window.Type("r");
        Story.ReadAsShown(window, 4);
        window.Type("s");
        Keep("finding");
        window.Type("d");
        Keep("finding-numbers");
        window.Press(Key.Esc);
        foreach (var (letter, name) in new[] { ('f', "findings"), ('l', "log"), ('k', "kit"), ('m', "machine"), ('t', "trend-list") })
        {
            window.Type(letter.ToString());
            Keep(name);
        }

        window.Press(Key.Enter);
        Keep("trend-series");
        window.Type("b");
        Keep("bench-after");
        window.Type("f\nv");
        Keep("finding-readings");
    }

    // Two digits are swapped as they stood in the cell, and what is offered is typed in the same unit.
    [Fact]
    public void Digits_swapped_in_inches_are_offered_in_inches_and_kept_in_both()
    {
        KnownMachine.InInches(Journal);
        using var window = Open();
        window.Type("\ns\ns");
        Story.ReadAsShown(window, 6);
        var right = Story.Look(window);
        var swapped = Swapped(right);
        window.Type(swapped + "\n");
        Assert.Contains("A slip?", window.Text, StringComparison.Ordinal);
        Assert.Contains($"A   {right}, {SlipQuestion.Slipped(swapped, right)}", window.Text, StringComparison.Ordinal);
        Assert.Matches(@"would lie [+-][0-9.]+ in off the line", window.Text);
        window.Type("a");
        var last = Ledger.Readings.Values.MaxBy(reading => reading.Taken.Sequence)!.Taken.Body;
        Assert.Equal(right, last.Typed);
        Assert.Equal(double.Parse(right, System.Globalization.CultureInfo.InvariantCulture) * 25.4, last.Value, 4);
    }

    // The last two digits that differ and weigh more than the scatter.
    private static string Swapped(string text)
    {
        var point = text.IndexOf('.', StringComparison.Ordinal);
        for (var i = point + 1; i + 1 < text.Length; i++)
        {
            if (text[i] != text[i + 1] && (i == point + 1 || Math.Abs(text[i] - text[i + 1]) > 4))
                return text[..i] + text[i + 1] + text[i] + text[(i + 2)..];
        }

        throw new InvalidOperationException($"{text} has no digits to swap");
    }

    [GeneratedRegex(@"compensation +mm +mm +mm")]
    private static partial Regex Compensation();

    // Steps per mm and slopes stay.
    [GeneratedRegex(@"(?<!(steps|Steps)[ -]per[ -])\bu?mm\b(?! per m\b|/m\b)|\bum\b")]
    private static partial Regex Millimetres();
}
