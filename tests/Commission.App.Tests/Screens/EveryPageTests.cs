using System.Globalization;
using Commission.Workshop.Screens;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>Every page in windows of every size, with names that hold more than plain letters.</summary>
public sealed class EveryPageTests
{
    // Wide, combining, joined, from right to left, and a control character.
    private const string Odd = "日本語 Ze\u0301bra \ud83d\udee0\ufe0f \u05d0\u05d1 \u001b[2Jx";

    [Theory]
    [MemberData(nameof(EveryKeyTests.Ways), MemberType = typeof(EveryKeyTests))]
    public void Resizing_in_the_middle_of_an_entry_keeps_what_is_typed_and_where(string page, string way)
    {
        using var window = new Headless(EveryKeyTests.DeskAt(way));
        if (window.Desk.Scene is { TextField: true } or { Cell: true })
            window.Type("12.3");
        else
            window.Press(Key.CursorDown);
        var (shown, cursor) = (window.Text, window.Desk.Show(80, 24).Cursor);
        foreach (var (width, height) in (ReadOnlySpan<(int, int)>)[(200, 60), (40, 10), (120, 40), (80, 24)])
        {
            window.Resize(width, height);
            window.Advance(50);
        }

        Assert.Equal((page, shown), (page, window.Text));
        Assert.Equal(cursor, window.Desk.Show(80, 24).Cursor);
        if (window.Desk.Scene is { TextField: true } or { Cell: true })
        {
            Assert.NotNull(cursor);
            window.Resize(200, 60);
            Assert.True(window.Text.Contains("12.3_", StringComparison.Ordinal), $"{page}\n{window.Text}");
        }
    }

    [Theory]
    [MemberData(nameof(EveryKeyTests.Ways), MemberType = typeof(EveryKeyTests))]
    public void The_machine_is_named_in_every_frame_and_PRACTICE_where_it_is_so(string page, string way)
    {
        var desk = EveryKeyTests.DeskAt(way);
        // Until a machine has its name the program's stands there; the name typed here loses its capital on the way.
        var named = way.Contains("Tern", StringComparison.Ordinal) ? "tern" : way.StartsWith('E') || page == "another set-up" ? "Commission" : "Heron";
        foreach (var (width, height) in (ReadOnlySpan<(int, int)>)[(80, 24), (120, 40), (200, 60)])
        {
            var first = SheetFrame.Rows(desk.Show(width, height), width, height)[0].Text;
            Assert.Equal((page, desk.Means.Journal.Nature == StoreNature.Practice), (page, first.StartsWith(" PRACTICE ", StringComparison.Ordinal)));
            Assert.True(first.Contains(" " + named + " ", StringComparison.Ordinal), $"{page}: {first}");
        }
    }

    [Theory]
    [MemberData(nameof(EveryKeyTests.Ways), MemberType = typeof(EveryKeyTests))]
    public void Wide_and_missing_glyphs_in_a_name_move_no_column_of_any_page(string page, string way)
    {
        var desk = EveryKeyTests.DeskAt(way, name: Odd);
        var plain = EveryKeyTests.DeskAt(way);
        foreach (var (width, height) in (ReadOnlySpan<(int, int)>)[(80, 24), (120, 40), (200, 60)])
        {
            var rows = SheetFrame.Rows(desk.Show(width, height), width, height);
            Assert.Equal(height, rows.Length);
            foreach (var row in rows)
            {
                Assert.True(row.Text.Length <= width, $"{page}: {row.Text}");
                Assert.True(row.Text.All(c => IsOneCell(c) || IsTurned(c)), $"{page}: {row.Text}");
                Assert.All(row.Stretches, stretch => Assert.InRange(stretch.Start, 0, width));
            }

            // Strip and STOP stand where they always do.
            var strip = SheetFrame.Rows(plain.Show(width, height), width, height)[height - 2].Text;
            Assert.Equal((page, strip), (page, rows[height - 2].Text));
        }

        using var fine = new Headless(desk, ascii: false);
        Assert.All(fine.Rows.Take(24), row => Assert.True(row.Length <= 80 && row.All(IsOneCell), $"{page}: {row}"));
        Assert.EndsWith("[STOP --]", fine.Rows[22], StringComparison.Ordinal);
    }

    // A row for each of some hundred published numbers: longer than any window.
    private const string Longest = "published cases";

    /// <summary>What is longer than the smallest window is seen at once in one that has the room.</summary>
    [Theory]
    [MemberData(nameof(EveryKeyTests.Ways), MemberType = typeof(EveryKeyTests))]
    public void A_large_window_shows_at_once_what_a_small_one_scrolls(string page, string way)
    {
        var desk = EveryKeyTests.DeskAt(way);
        var (small, large) = (desk.Show(80, 24), desk.Show(200, 60));
        Assert.True(large.Body.Length <= SheetFrame.BodyRows(60) || page == Longest, $"{page}: {small.Body.Length} rows at 80 by 24, {large.Body.Length} at 200 by 60");
        Assert.All(large.Body, line => Assert.True(line.Text.TrimEnd().Length <= 200, $"{page}: {line.Text}"));
        Assert.True(large.Keys.Where(key => key is { NotNow: null, Quiet: false }).Sum(key => key.Key.Length + key.Word.Length + 4) <= 200, page);
    }

    // One cell each, and turned round by some terminals: the window shows a question mark for them.
    private static bool IsTurned(char c) => c is >= '\u0590' and <= '\u08ff';

    private static bool IsOneCell(char c) => c is >= ' ' and <= '~' or (>= '\u00a1' and < '\u0300') or (>= '\u2500' and <= '\u259f') or (>= '\u2800' and <= '\u28ff') or '\u2192' or '\u2013' or '\u2026'
        && char.GetUnicodeCategory(c) is not (UnicodeCategory.NonSpacingMark or UnicodeCategory.Surrogate or UnicodeCategory.Format);
}
