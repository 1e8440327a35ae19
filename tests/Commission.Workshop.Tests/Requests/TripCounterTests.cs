using Commission.Core.Motion;
using Commission.Core.Procedures;
using Commission.Tests;
using Commission.Workshop.Requests;
using Commission.Workshop.Sessions;
using Commission.Workshop.Tests.Sessions;
using Microsoft.Extensions.Time.Testing;

namespace Commission.Workshop.Tests.Requests;

/// <summary>What a counter of trips keeps, and when.</summary>
public sealed class TripCounterTests
{
    private readonly FakeTimeProvider _clock = new();
    private readonly Kept _kept = new();
    private bool _open = true;
    private bool _tripped;
    private bool _silent;

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_trip_after_which_the_link_falls_silent_or_is_closed_is_kept_within_ten_seconds(bool closed)
    {
        using var counter = Counter();
        Pass(3);
        _tripped = true;
        Pass(1);
        (_open, _silent) = (!closed, !closed);
        Pass(10);
        Assert.Equal(1, Assert.Single(_kept.Notes).Watch.Trips);
        Pass(400);
        Assert.Single(_kept.Notes);
    }

    [Fact]
    public void What_was_not_kept_yet_is_kept_where_the_counting_ends_and_nothing_after_that()
    {
        var counter = Counter();
        Pass(200);
        Assert.Empty(_kept.Notes);
        counter.Dispose();
        counter.Dispose();
        Pass(400);
        var rest = Assert.Single(_kept.Notes);
        Assert.False(rest.Taken);
        Assert.Equal(200, rest.Watch.Watched.TotalSeconds, 0.5);
    }

    [Fact]
    public void Hours_that_were_taken_are_the_last_that_is_kept()
    {
        using (var counter = Counter())
        {
            Pass(100);
            counter.Take(WatchCount.Hours);
            Pass(400);
        }

        Assert.True(Assert.Single(_kept.Notes).Taken);
    }

    // A look that was on its way to the medium while the hours were taken: its note may stand before that of the hours, never after it.
    [Fact]
    public void No_note_of_a_look_follows_the_one_of_the_hours()
    {
        using var counter = Counter();
        _kept.Meanwhile = () => Task.Run(() => counter.Take(WatchCount.Hours), TestContext.Current.CancellationToken).Wait(50, TestContext.Current.CancellationToken);
        Pass(301);
        SpinWait.SpinUntil(() => _kept.Count > 1, TimeSpan.FromSeconds(10));
        Pass(400);
        Assert.Equal([false, true], _kept.Notes.Select(note => note.Taken));
    }

    [Fact]
    public void A_run_that_was_put_aside_is_not_opened_again_by_a_count()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "noise", axis: null);
        session.Leave("put-aside", "put aside by the operator").Require();
        Assert.IsType<Outcome<JournalEntry>.Bad>(session.KeepCount(Note(3600)));
        Assert.Equal(RunStanding.PutAside, Ledger.From(journal.Entries()).Runs.Values.Single().Standing);
    }

    [Theory]
    [InlineData("wiring-changed", true)]
    [InlineData("controller-replaced", true)]
    [InlineData("belt-tensioned", false)]
    // It puts all in doubt, and says nothing of the wiring.
    [InlineData("crash", false)]
    public void Another_count_begins_with_other_wiring_and_not_with_a_change_that_was_taken_back(string change, bool anew)
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "noise", axis: null);
        session.KeepCount(Note(3600)).Require();
        var told = journal.Append(new EntryBody.ChangeTold(change, null, "") { Machine = "Heron" }).Require();
        Assert.Equal(anew, session.CountSoFar() is null);
        journal.Append(new EntryBody.Withdrawn(told.Sequence, "undone") { Machine = "Heron" }).Require();
        Assert.Equal(3600, session.CountSoFar()!.Watch.Watched.TotalSeconds);
    }

    private static TripNote Note(double seconds) => new(TripWatch.GoingOn(TimeSpan.FromSeconds(seconds), TimeSpan.Zero, 1, 0, (DateTimeOffset.UnixEpoch, false)), Taken: false);

    private TripCounter Counter() => new(Now, _clock, _kept);

    private void Pass(int seconds)
    {
        for (var i = 0; i < seconds; i++)
            _clock.Advance(TimeSpan.FromSeconds(1));
    }

    private LinkSnapshot? Now()
    {
        if (!_open)
            return null;
        var resting = StateReport.Of(ControllerState.Resting, new(0, 0, 0));
        var gate = new Gate { Dialect = ShippedDialects.Find("numbered-settings")!, Facts = CommissionedFacts.Heron }
            .After(new GateEvent.Reported(TimeSpan.Zero, _tripped ? resting with { Pressed = [AxisName.X] } : resting)).Gate;
        return new LinkSnapshot(gate, _silent ? TimeSpan.FromMinutes(1) : TimeSpan.Zero, null);
    }

    private sealed class Kept : ITripRecord
    {
        private readonly List<TripNote> _notes = [];

        public Action? Meanwhile { get; set; }

        public int Count
        {
            get
            {
                lock (_notes)
                    return _notes.Count;
            }
        }

        public TripNote[] Notes
        {
            get
            {
                lock (_notes)
                    return [.. _notes];
            }
        }

        public TripNote? CountSoFar() => null;

        public Outcome<JournalEntry> KeepCount(TripNote note)
        {
            var meanwhile = Meanwhile;
            Meanwhile = null;
            meanwhile?.Invoke();
            lock (_notes)
                _notes.Add(note);
            return new Problem("kept in memory", "None");
        }
    }
}
