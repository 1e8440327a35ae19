using Commission.Core;
using Commission.Practice.Bench;
using Microsoft.Extensions.Time.Testing;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>A run that was cut off: taken up at its very cell, with the zero that the person says it has.</summary>
public sealed class ResumptionTests : IDisposable
{
    private readonly FakeTimeProvider _clock = KnownMachine.Clock();
    private readonly MemoryJournal _journal;

    public ResumptionTests() => _journal = KnownMachine.Journal(_clock);

    public void Dispose() => _journal.Dispose();

    [Fact]
    public void A_known_machine_is_at_its_first_accepted_reading_after_five_presses_besides_the_digits()
    {
        using var window = Open(_journal);
        // Enter follows NEXT to the route card, S begins, Enter and S answer the setting-up, Enter accepts.
        window.Press(Key.Enter);
        window.Type("s");
        window.Press(Key.Enter);
        window.Type("s");
        window.Type(Story.Look(window));
        Assert.Empty(Ledger.From(_journal.Entries()).Readings);
        window.Press(Key.Enter);
        Assert.Single(Ledger.From(_journal.Entries()).Readings);
    }

    [Fact]
    public void Blocks_that_were_touched_get_a_zero_of_their_own_and_the_scale_is_still_found()
    {
        using (var before = Open(_journal))
        {
            before.Type("\ns\ns");
            Story.Read(before, 6);
        }

        using var window = Open(_journal);
        Assert.StartsWith(" PRACTICE  Heron / unfinished", window.Rows[0], StringComparison.Ordinal);
        // Drives not off, but untouched: no. The blocks were bumped by 0.7 mm meanwhile.
        window.Press(Key.CursorLeft, Key.CursorDown, Key.CursorLeft, Key.Enter);
        Assert.Contains("reading 7 of 10", window.Rows[0], StringComparison.Ordinal);
        Story.Read(window, 4, shift: 0.7);
        window.Type("s");
        var made = Ledger.From(_journal.Entries()).Findings.Values.Single().Made.Body;
        var bench = PracticeBench.Heron(KnownMachine.Seed).Machine;
        var places = Ledger.From(_journal.Entries()).Readings.Values.Select(reading => reading.Taken.Body.Given["commanded_mm"]).ToList();
        var headline = made.Finding.Headline;
        Assert.InRange(headline.Value!.Value - bench.ScaleErrorBetween(AxisName.X, places.Min(), places.Max()), -headline.ExpandedUncertainty!.Value, headline.ExpandedUncertainty.Value);
        Assert.Contains(made.Finding.Remarks, remark => remark.Contains("2 groups of readings with a zero each", StringComparison.Ordinal));
        Assert.DoesNotContain(_journal.Entries(), entry => entry.Body is EntryBody.Noted noted && noted.Text.StartsWith("Question", StringComparison.Ordinal) && entry.Sequence > made.Readings[5]);
    }

    [Fact]
    public void An_untouched_set_up_with_the_drives_on_keeps_its_zero()
    {
        using (var before = Open(_journal))
        {
            before.Type("\ns\ns");
            Story.Read(before, 3);
        }

        using var window = Open(_journal);
        window.Press(Key.CursorLeft, Key.CursorDown, Key.CursorLeft, Key.CursorLeft);
        Assert.Contains("their zero holds", window.Text, StringComparison.Ordinal);
        window.Press(Key.Enter);
        Story.Read(window, 1);
        Assert.Empty(Ledger.From(_journal.Entries()).Readings.Values.Last().Taken.Body.Words.GetValueOrDefault("zero", ""));
    }

    [Fact]
    public void The_line_that_was_cut_off_is_shown_and_not_used()
    {
        using (var before = Open(_journal))
        {
            before.Type("\ns\ns");
            Story.Read(before, 2);
        }

        using var cut = new CutJournal(_journal, """{"format":"commission.journal/1","id":"prac:60","type":"reading","recorded":3,"place":"middle","typed":"146.4""");
        using var window = Open(cut);
        Assert.Contains("""half a line of reading 3: "146.4" without its end.""", window.Text, StringComparison.Ordinal);
        window.Type("d");
        Assert.Contains("set aside and never used", window.Text, StringComparison.Ordinal);
        window.Press(Key.Esc, Key.Enter);
        Assert.Contains("reading 3 of 10", window.Rows[0], StringComparison.Ordinal);
        Assert.Equal(2, Ledger.From(_journal.Entries()).Readings.Count);
    }

    [Fact]
    public void What_was_put_aside_waits_on_its_route_card_and_the_bench_opens_first()
    {
        using (var before = Open(_journal))
        {
            before.Type("\ns\ns");
            Story.Read(before, 2);
            before.Type("o");
        }

        using var window = Open(_journal);
        Assert.StartsWith(" PRACTICE  Heron / bench", window.Rows[0], StringComparison.Ordinal);
        window.Type("\ns");
        Assert.StartsWith(" PRACTICE  Heron / unfinished", window.Rows[0], StringComparison.Ordinal);
        window.Type("\n");
        Assert.Contains("reading 3 of 10", window.Rows[0], StringComparison.Ordinal);
    }

    private Headless Open(IJournal journal) => new(ScreenProgram.DeskOf(KnownMachine.Options(journal), _clock));

    // A journal on disk tells what was cut off; this one in memory has it told.
    private sealed class CutJournal(IJournal journal, string cut) : IJournal
    {
        public StoreNature Nature => journal.Nature;

        public string Store => journal.Store;

        public string? ReadOnlyReason => null;

        public string? CutOff => cut;

        public IEnumerable<JournalEntry> Entries() => journal.Entries();

        public Outcome<JournalEntry> Append(EntryBody body) => journal.Append(body);

        public void Dispose()
        {
        }
    }
}
