using Commission.Workshop.Screens;

namespace Commission.Workshop.Tests.Screens;

public class SheetFrameTests
{
    private static Sheet Some => new()
    {
        Path = "Heron / bench",
        Right = "Sat 4 Apr 2026",
        Body = [.. Enumerable.Range(1, 30).Select(i => (Line)$" line {i}")],
        Next = "First power-up list: 33 checks.",
        Because = "Because: nothing may be powered before it.",
        Keys = [new("Enter", "next", "next"), new("H", "home", "home", "not in the middle of a step"), new("F2", "card", "card")],
    };

    [Theory]
    [InlineData(80, 24)]
    [InlineData(120, 40)]
    [InlineData(200, 60)]
    public void The_frame_stands_at_any_size(int width, int height)
    {
        var rows = SheetFrame.Rows(Some, width, height);
        Assert.Equal(height, rows.Length);
        Assert.All(rows, row => Assert.True(row.Text.Length <= width));
        Assert.StartsWith(" Heron / bench", rows[0].Text, StringComparison.Ordinal);
        Assert.StartsWith("NEXT >> First power-up list", rows[^4].Text, StringComparison.Ordinal);
        Assert.EndsWith("[STOP --]", rows[^2].Text, StringComparison.Ordinal);
        Assert.Equal(" Enter next   F2 card", rows[^1].Text);
    }

    [Fact]
    public void A_body_longer_than_the_window_says_how_much_is_left_and_scrolls()
    {
        Assert.Contains(SheetFrame.Rows(Some, 80, 24), row => row.Text.Contains("13 more lines: PgDn", StringComparison.Ordinal));
        Assert.Contains(SheetFrame.Rows(Some, 80, 24, scroll: 12), row => row.Text == " line 30");
    }

    [Fact]
    public void A_window_too_small_says_so_and_loses_nothing() =>
        Assert.Equal("Make the window at least 80 by 24; nothing is lost.", Assert.Single(SheetFrame.Rows(Some, 70, 24)).Text);

    [Fact]
    public void Practice_stands_first_in_row_one() =>
        Assert.StartsWith(" PRACTICE  Heron / bench", SheetFrame.Rows(Some with { IsPractice = true }, 80, 24)[0].Text, StringComparison.Ordinal);

    [Fact]
    public void Nothing_from_outside_acts_on_the_terminal()
    {
        var rows = SheetFrame.Rows(Some with { Path = "Her\u001b[2Jon", Body = [" name \u65e5\u0301 end"] }, 80, 24);
        Assert.StartsWith(" Her[2Jon", rows[0].Text, StringComparison.Ordinal);
        Assert.Equal(" name ?? end", rows[2].Text);
    }

    [Fact]
    public void A_message_takes_row_22_and_NEXT_stays_in_row_21_whatever_is_said()
    {
        const string Long = "The file heron.jsonl holds a line that is no entry of a journal. Export the journal again, whole, and read it in.";
        string[] Said(Sheet sheet, string message) => [.. SheetFrame.Rows(sheet with { Message = message }, 80, 24)[18..22].Select(row => row.Text)];
        Assert.Equal(["NEXT >> First power-up list: 33 checks.", "        Nothing was written."], Said(Some, "Nothing was written.")[2..]);

        // A full sheet has no room above NEXT: the beginning stands in row 22 with the key that shows it whole.
        var full = Said(Some, Long);
        Assert.StartsWith("NEXT >> ", full[2], StringComparison.Ordinal);
        Assert.Equal("        The file heron.jsonl holds a line that is no entry of ... F1: all of it", full[3]);

        // Where it has room the message stands whole above NEXT, and the reason below stays.
        var roomy = Said(Some with { Body = [" line"] }, Long);
        Assert.Equal("        The file heron.jsonl holds a line that is no entry of a journal. Export", roomy[0]);
        Assert.Equal("        the journal again, whole, and read it in.", roomy[1]);
        Assert.Equal(["NEXT >> First power-up list: 33 checks.", "        Because: nothing may be powered before it."], roomy[2..]);
        Assert.All(Said(Some, string.Join(' ', Enumerable.Repeat("word", 60))), row => Assert.True(row.Length <= 80));
    }
}
