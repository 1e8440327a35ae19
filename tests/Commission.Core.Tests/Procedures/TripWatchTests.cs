using Commission.Core.Procedures;
using Commission.Tests;
using CsCheck;

namespace Commission.Core.Tests.Procedures;

public sealed class TripWatchTests
{
    private static readonly DateTimeOffset Noon = new(2031, 5, 4, 12, 0, 0, TimeSpan.Zero);

    // A look each second; the calendar and the running clock are told apart.
    private static TripWatch Watched(TripWatch watch, double fromS, double toS, double sleptS = 0, Func<double, bool>? tripped = null)
    {
        for (var s = fromS; s <= toS; s++)
            watch = watch.After(Noon.AddSeconds(s), TimeSpan.FromSeconds(s - sleptS), tripped?.Invoke(s) == true);
        return watch;
    }

    [Fact]
    public void Two_hours_without_a_trip_are_two_hours_in_one_piece()
    {
        var watch = Watched(TripWatch.Begun, 0, 7200);
        Assert.Equal((2.0, 1, 0, 0.0), (watch.Watched.TotalHours, watch.Pieces, watch.Trips, watch.Unseen.TotalHours));
        Assert.Equal("Watched 2 h: 0 trips.", watch.Words);
    }

    // The lid is closed for an hour: the running clock stands still, the calendar goes on.
    [Fact]
    public void A_laptop_that_sleeps_splits_the_clean_time_and_the_hour_asleep_does_not_count()
    {
        var watch = Watched(Watched(TripWatch.Begun, 0, 1800), 5400, 7200, sleptS: 3600);
        Assert.Equal((1.0, 2), (Math.Round(watch.Watched.TotalHours, 3), watch.Pieces));
        Assert.Equal("Watched 1 h in 2 pieces; 1 h between them were not seen and do not count: 0 trips.", watch.Words);
    }

    [Fact]
    public void A_link_that_is_silent_leaves_a_hole_too()
    {
        var watch = Watched(Watched(TripWatch.Begun, 0, 60), 120, 180);
        Assert.Equal((120.0, 2, 60.0), (watch.Watched.TotalSeconds, watch.Pieces, watch.Unseen.TotalSeconds));
    }

    [Fact]
    public void A_trip_counts_once_from_its_coming_up_to_its_being_cleared()
    {
        var watch = Watched(TripWatch.Begun, 0, 100, tripped: s => s is >= 10 and < 40 or 70);
        Assert.Equal(2, watch.Trips);
    }

    [Fact]
    public void A_trip_that_is_there_after_a_hole_counts() =>
        Assert.Equal(1, Watched(Watched(TripWatch.Begun, 0, 10), 600, 610, sleptS: 500, tripped: _ => true).Trips);

    [Fact]
    public void However_the_clocks_run_watched_and_unseen_are_never_more_than_the_calendar_and_the_running_clock_tell() =>
        Gen.Select(Gen.Double[0, 20], Gen.Double[0, 20]).Array[1, 50].SampleFixed(steps =>
        {
            var (watch, wall, ran) = (TripWatch.Begun.After(Noon, TimeSpan.Zero, false), 0.0, 0.0);
            foreach (var (calendar, running) in steps)
                watch = watch.After(Noon.AddSeconds(wall += calendar), TimeSpan.FromSeconds(ran += running), false);
            return watch.Watched.TotalSeconds <= ran + 1e-3 && watch.Watched.TotalSeconds + watch.Unseen.TotalSeconds <= steps.Sum(step => Math.Max(step.Item1, step.Item2)) + 1e-3
                && watch.Pieces >= 1 && watch.Trips == 0;
        }, iter: 300);

    [Fact]
    public void What_a_note_keeps_comes_back_and_what_lies_between_is_a_hole()
    {
        var before = Watched(Watched(TripWatch.Begun, 0, 1800, tripped: s => s == 70), 5400, 7200, sleptS: 3600);
        var note = new TripNote(before, Taken: false);
        Assert.Equal("False trips so far: 1 in 3600.000 s watched, 2 pieces, 3600.000 s not seen, none up at 2031-05-04T14:00:00.0000000+00:00", note.Words);

        // Another program, whose running clock begins anew, an hour later.
        var after = Watched(TripNote.Read(note.Words)!.Watch, 10_800, 12_600, sleptS: 10_800);
        Assert.Equal((1.5, 3, 1, 2.0), (after.Watched.TotalHours, after.Pieces, after.Trips, after.Unseen.TotalHours));
        Assert.True(TripNote.Read(new TripNote(after, Taken: true).Words)!.Taken);
    }

    [Fact]
    public void A_trip_that_was_up_when_the_note_was_made_and_still_is_counts_once()
    {
        var note = new TripNote(Watched(TripWatch.Begun, 0, 10, tripped: s => s > 5), Taken: false);
        Assert.Equal(1, Watched(TripNote.Read(note.Words)!.Watch, 100, 110, tripped: _ => true).Trips);
    }

    [Theory]
    [InlineData("False trips so far: 1 in 3600.000 s watched, 2 pieces, 3600.000 s not seen, none up at yesterday")]
    [InlineData("False trips so far: 99999999999 in 3600.000 s watched, 2 pieces, 3600.000 s not seen, none up at 2031-05-04T14:00:00.0000000+00:00")]
    [InlineData("False trips so far: many")]
    [InlineData("")]
    public void Another_note_is_no_count(string words) => Assert.Null(TripNote.Read(words));

    [Fact]
    public void A_watch_that_has_seen_nothing_is_not_kept() => Assert.Equal("", new TripNote(TripWatch.Begun, Taken: false).Words);
}
