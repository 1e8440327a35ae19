using System.Collections.Immutable;
using Commission.Core.History;
using Commission.Core.Procedures;
using Commission.Workshop.Controllers;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Keys;
using Commission.Workshop.Screens.Pages;
using Microsoft.Extensions.Time.Testing;

namespace Commission.Workshop.Tests.Screens.Pages;

public sealed class DeskTests : IDisposable
{
    private readonly FakeTimeProvider _clock = new(new DateTimeOffset(2026, 4, 4, 10, 0, 0, TimeSpan.Zero));
    private readonly MemoryJournal _journal;
    private readonly Desk _desk;
    private KeyRouter _router = new();
    private long _now = 1000;

    public DeskTests()
    {
        _journal = new MemoryJournal(StoreNature.Real, "abcd", "test", _clock);
        _desk = New();
    }

    public void Dispose() => _journal.Dispose();

    private string Text => SheetFrame.Text(_desk.Show(80, 24));

    [Fact]
    public void The_first_start_leads_one_question_at_a_time_to_the_bench()
    {
        Assert.Equal(Wireframe.Text("S01-first-start"), Text);
        Type("\n");
        Assert.Contains("question 1 of 7", Text, StringComparison.Ordinal);
        // 15 fields of 7 questions, Enter after each; what is not known stays empty.
        Type("Heron\n420\n580\n90\n\n\n5\n\n\n\n\n320\n320,5\n\n\n");
        var machine = _desk.Machine!;
        Assert.Equal(("Heron", 580.0, 5.0, (double?)null, 320.5), (machine.Name, machine.TravelMm[1], machine.X.TravelPerTurnMm, machine.Y.TravelPerTurnMm, machine.Y.StepsPerMm));
        Assert.Contains(" Heron / bench", Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Only_name_and_travel_are_needed_and_a_wrong_answer_says_what_to_type()
    {
        Type("\n\n");
        Assert.Contains("This one is needed", Text, StringComparison.Ordinal);
        Type("Heron\nlong\n");
        Assert.Contains("long is no answer", Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_comma_with_two_meanings_is_asked_about_in_the_set_up_and_answered_with_the_arrows()
    {
        Type("\nHeron\n420\n580\n90\n\n\n5\n\n\n\n\n319,606\n");
        Assert.Contains("319,606 can be 319.606 or 319606. Which? Left or Right, Enter.", Text, StringComparison.Ordinal);
        _desk.Do(new KeyAct.Choose(1, Sideways: true));
        Assert.Contains("319606. Enter takes it; Left takes 319.606.", Text, StringComparison.Ordinal);
        _desk.Do(new KeyAct.Choose(-1, Sideways: true));
        Type("\n\n\n\n");
        Assert.Equal(319.606, _desk.Machine!.X.StepsPerMm);
    }

    [Fact]
    public void A_travel_of_nothing_is_answered_with_what_it_must_be()
    {
        Type("\nHeron\n0\n");
        Assert.Contains("0 mm cannot be: more than 0 is wanted.", Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_place_has_a_sheet_with_the_machines_name_and_Esc_leads_back_to_the_bench()
    {
        var desk = WithMachine();
        foreach (var letter in "WFTCKLMB")
        {
            desk.Do(new KeyAct.Place(letter));
            var text = SheetFrame.Text(desk.Show(80, 24));
            Assert.StartsWith(" Heron / ", text, StringComparison.Ordinal);
            Assert.Equal(24, text.TrimEnd('\n').Split('\n').Length);
            desk.Do(new KeyAct.Away());
            Assert.StartsWith(" Heron / bench", SheetFrame.Text(desk.Show(80, 24)), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void The_card_lists_every_place_and_Esc_puts_it_away()
    {
        var desk = WithMachine();
        desk.Do(new KeyAct.Card());
        Assert.Contains("B  bench        <- you are here", SheetFrame.Text(desk.Show(80, 24)), StringComparison.Ordinal);
        desk.Do(new KeyAct.Choose(1, false));
        desk.Do(new KeyAct.FollowNext());
        Assert.StartsWith(" Heron / work", SheetFrame.Text(desk.Show(80, 24)), StringComparison.Ordinal);
    }

    [Fact]
    public void A_note_goes_into_the_log_with_letters_that_are_keys_elsewhere()
    {
        var desk = WithMachine();
        desk.Do(new KeyAct.Place('L'));
        desk.Do(new KeyAct.Deed("note"));
        foreach (var c in "nut set by M.")
            desk.Do(new KeyAct.Type(c));
        desk.Do(new KeyAct.Accept());
        Assert.Equal("nut set by M.", Assert.Single(desk.Ledger.Notes).Body.Text);
        Assert.Contains("note: nut set by M.", SheetFrame.Text(desk.Show(80, 24)), StringComparison.Ordinal);
    }

    [Fact]
    public void STOP_without_a_link_says_that_nothing_was_sent()
    {
        Type("\n");
        _desk.Do(new KeyAct.Stop("STOP"));
        Assert.Contains("Nothing is connected. Nothing was sent.", Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Q_leaves_from_the_bench_and_nothing_is_asked()
    {
        var desk = WithMachine();
        desk.Do(new KeyAct.Deed("leave"));
        Assert.True(desk.Left);
    }

    [Fact]
    public void A_link_enters_what_it_does_for_the_machine_it_was_opened_for()
    {
        var machines = new List<string?>();
        Describe("Egret");
        var desk = WithLink(machines);
        desk.Link!.Open(new("port", "numbered-settings"));
        desk.Link.Open(new("port", "numbered-settings"));
        desk.Use("Egret");
        desk.Link.Open(new("port", "numbered-settings"));
        Assert.Equal(["Heron", "Egret"], machines);
    }

    [Fact]
    public void While_a_link_is_being_opened_the_machine_stays()
    {
        var desk = WithLink([]);
        Assert.Null(StoreDeeds.Busy(desk));
        desk.Link!.Open(new("port", "numbered-settings"));
        Assert.NotNull(StoreDeeds.Busy(desk));
    }

    [Fact]
    public void A_journal_that_is_read_again_keeps_the_machine_in_use_where_there_still_is_one()
    {
        var desk = WithMachine();
        Describe("Egret");
        desk.Refresh();
        desk.Reread();
        Assert.Equal("Heron", desk.MachineName);
    }

    [Fact]
    public void What_was_taken_back_with_a_reason_is_not_undone_and_nothing_older_is_in_its_place()
    {
        var desk = WithMachine();
        desk.Write(new EntryBody.Noted(null, "older") { Machine = "Heron" });
        desk.Write(new EntryBody.ChangeTold("steps-changed", "Y", "new board") { Machine = "Heron" });
        new WithdrawEntry(_journal).Run(desk.Ledger.LastSequence, "it was X").Require();
        var before = _journal.Entries().Count();
        Undo.Last(desk);
        Assert.Equal(before, _journal.Entries().Count());
        Assert.Contains("cannot be undone", desk.Show(80, 24).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void The_instrument_asked_for_is_forgotten_when_its_route_card_is_left()
    {
        var desk = WithMachine();
        desk.Preferred = "tape";
        desk.ToBench();
        Assert.Null(desk.Preferred);
    }

    private Desk WithLink(List<string?> machines)
    {
        var means = WithMachine().Means;
        var connect = new ConnectController(new NoPort(), new NoPort(), TimeProvider.System);
        return new Desk(means with
        {
            Machine = "Heron",
            Link = new LinkMeans
            {
                Addresses = () => [],
                Make = (tell, journal, machine) =>
                {
                    machines.Add(machine);
                    return new LinkDesk(connect, tell, journal, machine);
                },
            },
        });
    }

    private sealed class NoPort : IPortOpener, ITextFiles
    {
        public Outcome<ITransport> Open(string name, int baud) => new Problem("there is no port", "None");

        public Outcome<string> Read(string path) => new Problem("no files here", "None");

        public bool IsThere(string path) => false;

        public Outcome<string> Write(string path, string text) => path;
    }

    private void Describe(string name) =>
        _journal.Append(new EntryBody.MachineDescribed(new Machine { Name = name, TravelMm = [420, 580, 90] }, Retired: false) { Machine = name }).Require();

    [Fact]
    public void The_log_reaches_back_to_its_first_entry()
    {
        Describe("Heron");
        for (var at = 0; at < 620; at++)
            _journal.Append(new EntryBody.Noted(null, $"note {at}") { Machine = "Heron" });
        var desk = New();
        desk.Do(new KeyAct.Place('L'));
        SheetFrame.Text(desk.Show(80, 24));
        for (var at = 0; at < 1000; at += 10)
        {
            desk.Do(new KeyAct.Choose(10, Sideways: false));
            desk.Show(80, 24);
        }

        // The store itself, the machine, and the first note: further down there is nothing.
        var shown = SheetFrame.Text(desk.Show(80, 24));
        Assert.True(shown.Contains("note 0", StringComparison.Ordinal), shown);
        Assert.Contains("622 entries", shown, StringComparison.Ordinal);
    }

    private Desk WithMachine()
    {
        Describe("Heron");
        return New();
    }

    private Desk New() => new(new DeskMeans
    {
        Journal = _journal, Procedures = [], Clock = _clock,
        Begin = (_, _, _, _) => new Outcome<IWorkSession>.Bad([new Problem("no procedure is at hand", "Add one")]),
    });

    private void Type(string keys)
    {
        foreach (var c in keys)
        {
            _now += 200;
            (_router, var acts) = _router.After(_desk.Scene, c == '\n' ? KeyPress.Of(NamedKey.Enter, _now) : KeyPress.Of(c, _now));
            foreach (var act in acts)
                _desk.Do(act);
        }
    }
}
