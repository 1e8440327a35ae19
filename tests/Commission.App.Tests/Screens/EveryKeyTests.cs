using System.Collections.Immutable;
using Commission.Core;
using Commission.Core.Procedures;
using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Keys;
using Commission.Workshop.Screens.Pages;
using Microsoft.Extensions.Time.Testing;

namespace Commission.App.Tests.Screens;

/// <summary>On every page each key that the sheet names does something, and every other letter says that it does nothing, or why not now.</summary>
public sealed class EveryKeyTests
{
    private const string Heron = "Heron";
    private const string Nothing = " does nothing here. F2 shows what does.";

    // Keys lead to the page from the bench, after R where something has been measured, U where a run was left open, E where nothing is there yet:
    // letters as typed, > for Enter, # for Down, < for Esc, ? for F1, ! for F2.
    public static TheoryData<string, string> Ways { get; } = new()
    {
        { "bench", "" }, { "work", "w" }, { "findings, none yet", "f" }, { "trend, none yet", "t" }, { "controller", "c" }, { "kit", "k" }, { "an instrument", "k>" }, { "catalogue", "ka" }, { "check", "kv" }, { "log", "l" },
        { "an entry", "l>" }, { "tell a change", "la" }, { "machine", "m" }, { "deeds", "m>" }, { "facts", "ma" }, { "help", "?" }, { "card", "!" }, { "note", "ln" },
        { "route card", ">" }, { "good data", ">D" }, { "plans", ">p" }, { "a plan's places", ">pD" }, { "instruction", ">s" }, { "statement", ">s>" }, { "readings", ">s>s" }, { "readings, large", ">s>sg" }, { "call", ">s>sgg" },
        { "first start", "E" }, { "set-up, a name", "E>" }, { "set-up, a travel", "E>Tern>" }, { "set-up, a drive", "E>Tern>420>580>90>" }, { "unfinished", "U" },
        { "readings of the run left open", "Uv" }, { "one fact", "m>>" }, { "machines", "m>#>" }, { "another set-up", "m>##>" }, { "out of use", "m>###>" }, { "a report", "m>####>" }, { "a report of a day", "m>#####>" },
        { "a card for the wall", "m>######>" }, { "computed again", "m>###########>" }, { "adopt a value", "m>############>" }, { "adopt settings", "m>#############>" }, { "fit a file", "m>##############>" },
        { "published cases", "m>###############>" }, { "a fact typed", "ma>" }, { "words of a change", "la>>" }, { "like this one", "ka>" }, { "a hand study's card", "ks" }, { "after one reading", ">s>s75.01>" },
        { "leave one out", ">s>s75.01>E" }, { "a check", "w####>s" }, { "take back", "R fE" }, { "a picture", "R f>g" }, { "withdraw from the log", "R lE" },
        { "leave one out, none yet", ">s>sE" }, { "findings", "R f" }, { "finding", "R f>" }, { "numbers", "R f>D" }, { "readings of a finding", "R f>V" }, { "trend", "R t" }, { "series", "R t>" }, { "numbers of a series", "R t>D" },
    };

    [Theory]
    [MemberData(nameof(Ways))]
    public void Each_key_that_a_sheet_names_does_something(string page, string way)
    {
        foreach (var key in At(way).Desk.Show(120, 40).Keys.Where(key => key.NotNow is null))
        {
            foreach (var named in Names(key.Key))
            {
                var (desk, press) = At(way);
                // In the middle of a list both ways lead on; a list of one line has none.
                if (Moves(key) && Both(key.Key) is { } both)
                    press(both);
                var before = State(desk);
                press(named);
                var after = desk.Show(120, 40);
                Assert.True(State(desk) != before || (Moves(key) && IsAlone(way, key)), $"{page}: {key.Key} ({named}) {key.Word} changes nothing:\n{SheetFrame.Text(after, 120, 40)}");
                Assert.False(after.Message is { } said && (said.EndsWith(Nothing, StringComparison.Ordinal) || said == "That is not possible here."), $"{page}: {key.Key} {key.Word}: {after.Message}");
            }
        }
    }

    [Theory]
    [MemberData(nameof(Ways))]
    public void Every_other_letter_says_that_it_does_nothing_or_why_not_now(string page, string way)
    {
        var (desk, press) = At(way);
        var scene = desk.Scene;
        if (scene.TextField)
            return;
        for (var letter = 'A'; letter <= 'Z'; letter++)
        {
            var deed = scene.Deeds.FirstOrDefault(deed => deed.Letter == letter);
            if (deed is { NotNow: null } || (deed is null && scene.Places.Contains(letter, StringComparison.Ordinal)))
                continue;
            press(letter.ToString());
            var said = desk.Show(120, 40).Message;
            Assert.True(said == (deed is null ? letter + Nothing : Inking.Clean($"{letter} {deed.Word}: {deed.NotNow}")), $"{page}: {letter} says: {said}");
        }
    }

    // What only shows something stands on the card; what writes, or leads to writing, is named where it acts.
    private static readonly string[] Looks = ["place", "card", "help", "note", "details", "raw", "plans", "so-far", "large", "how", "data", "picture", "look", "counted", "cut-line", "leave", "away", "lines", "wire", "older", "series"];

    [Theory]
    [InlineData("readings", ">s>s")]
    [InlineData("after one reading", ">s>s75.01>")]
    [InlineData("large", ">s>sg")]
    [InlineData("call", ">s>s75.01>gg")]
    [InlineData("instruction", ">s")]
    [InlineData("statement", ">s>")]
    [InlineData("a check", "w####>s")]
    [InlineData("kit", "k")]
    [InlineData("facts", "ma")]
    [InlineData("finding", "R f>")]
    [InlineData("findings", "R f")]
    public void Every_letter_that_does_something_stands_in_row_24_of_the_smallest_window(string page, string way)
    {
        var desk = At(way).Desk;
        var sheet = desk.Show(80, 24);
        var row = SheetFrame.Rows(sheet, 80, 24)[^1].Text + " ";
        foreach (var key in sheet.Keys.Where(key => key is { Letter: not null, NotNow: null, Quiet: false } && !Looks.Contains(key.Action)))
            Assert.True(row.Contains($" {key.Key} {key.Word} ", StringComparison.Ordinal), $"{page}: {key.Key} {key.Word} acts and is not named:\n{row}");
    }

    [Theory]
    [MemberData(nameof(Ways))]
    public void A_window_of_any_width_is_told_what_it_lacks_and_nothing_breaks(string page, string way)
    {
        var desk = At(way).Desk;
        foreach (var width in (int[])[1, 15, 20, 37, 38, 60, 79])
            Assert.True(SheetFrame.TooSmall[..Math.Min(width, SheetFrame.TooSmall.Length)] == Assert.Single(SheetFrame.Rows(desk.Show(width, 20), width, 20)).Text, $"{page} {width}");
    }

    // Row 24 may be too narrow for all of them: the card has each, and the reason of those that cannot be pressed.
    [Theory]
    [MemberData(nameof(Ways))]
    public void The_card_has_every_key_of_the_sheet_and_the_reason_of_each_that_cannot_be_pressed(string page, string way)
    {
        var (desk, press) = At(way);
        if (page is "card")
            return;
        var keys = desk.Show(120, 40).Keys;
        press("F2");
        var card = string.Join('\n', desk.Show(200, 60).Body.Select(line => line.Text));
        foreach (var key in keys.Where(key => key.Action is not ("place" or "card")))
            Assert.True(card.Contains(key.NotNow ?? key.Word, StringComparison.Ordinal), $"{page}: the card lacks {key.Key} {key.Word} {key.NotNow}\n{card}");
    }

    private static bool Moves(SheetKey key) => key.Action is "choose" or "series" or "scroll";

    private static string? Both(string key) => key switch { "Up, Down" => "Down", "Left, Right" => "Left", _ => null };

    // A list of one or two lines: no way leads to another one from there.
    private static bool IsAlone(string way, SheetKey key)
    {
        var (desk, press) = At(way);
        var seen = new HashSet<string> { State(desk) };
        foreach (var name in Names(key.Key).Concat(Names(key.Key)))
        {
            press(name);
            seen.Add(State(desk));
        }

        return seen.Count <= 2;
    }

    private static string State(Desk desk) => SheetFrame.Text(desk.Show(120, 40), 120, 40) + desk.Left + desk.Scrolled + desk.Look + desk.Scene.TextField;

    private static IEnumerable<string> Names(string key) => key.Split(", ").Select(name => name switch { "PgUp" => "PgDn", _ => name }).Distinct();

    private static readonly Lazy<IReadOnlyList<Procedure>> Procedures = new(() => PracticeStore.Shipped("axis-scale", "gauge-study", "readiness"));

    private static readonly Lazy<(ImmutableArray<JournalEntry> Entries, DateTimeOffset Now)> Known = new(() => Kept((_, _) => { })), Measured = new(() => Kept(StoredPractice.Scale)),
        LeftOpen = new(() => Kept((journal, clock) => Story.BreakOff(journal, clock, 3)));

    private static (ImmutableArray<JournalEntry> Entries, DateTimeOffset Now) Kept(Action<MemoryJournal, FakeTimeProvider> fill)
    {
        var clock = KnownMachine.Clock();
        using var journal = KnownMachine.Journal(clock);
        fill(journal, clock);
        return ([.. journal.Entries()], clock.GetUtcNow());
    }

    // Made once and written again for each key: what one key enters is not there for the next.
    private static (MemoryJournal Journal, FakeTimeProvider Clock) Copy((ImmutableArray<JournalEntry> Entries, DateTimeOffset Now) kept, string name)
    {
        var clock = new FakeTimeProvider(kept.Entries[0].At);
        var journal = PracticeStore.Journal(clock);
        foreach (var entry in kept.Entries.Skip(1))
        {
            clock.SetUtcNow(entry.At);
            journal.Append(Called(entry.Body, name));
        }

        clock.SetUtcNow(kept.Now);
        return (journal, clock);
    }

    // The same machine by another name.
    private static EntryBody Called(EntryBody body, string name) => name == Heron ? body
        : (body is EntryBody.MachineDescribed described ? described with { Description = described.Description with { Name = name } } : body) with { Machine = body.Machine == Heron ? name : body.Machine };

    /// <summary>The desk at a page.</summary>
    /// <param name="way">The way to it.</param>
    /// <param name="name">Name of the machine.</param>
    public static Desk DeskAt(string way, string name = Heron) => At(way, name).Desk;

    private static (Desk Desk, Action<string> Press) At(string way, string name = Heron)
    {
        // Where nothing is there yet the store is a real one: practice describes its machine by itself.
        var (journal, clock) = way.StartsWith('E') ? (new MemoryJournal(StoreNature.Real, "real", "test", KnownMachine.Clock()), KnownMachine.Clock())
            : Copy(way.StartsWith('R') ? Measured.Value : way.StartsWith('U') ? LeftOpen.Value : Known.Value, name);
        var desk = ScreenProgram.DeskOf(PracticeStore.Options(journal, KnownMachine.Seed) with { Procedures = Procedures.Value, Files = new NoDisk(), Machine = way.StartsWith('E') ? null : name }, clock);
        var keys = new PressedKeys();
        void Press(string name) => keys.Press(desk, name);

        foreach (var step in way.TrimStart('R', 'E', 'U', ' '))
            Press(step switch { '>' => "Enter", '#' => "Down", '<' => "Esc", '?' => "F1", '!' => "F2", _ => step.ToString() });
        return (desk, Press);
    }

    /// <summary>Files that never reach a disk.</summary>
    private sealed class NoDisk : ITextFiles
    {
        public Outcome<string> Read(string path) => new Problem($"there is no file {path}", "Type the path of one that is there");

        public bool IsThere(string path) => false;

        public Outcome<string> Write(string path, string text) => path;
    }
}
