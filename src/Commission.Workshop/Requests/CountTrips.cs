using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.Procedures;
using Commission.Core.Readings;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Requests;

/// <summary>Counts trips that nobody caused while a controller is watched, and says what the time proves.</summary>
/// <param name="time">The clock.</param>
/// <param name="before">What was counted before, where it goes on; null where it begins.</param>
public sealed class CountTrips(TimeProvider time, TripWatch? before = null)
{
    // An older answer says nothing about now: the time up to the next fresh one is a hole.
    private static readonly TimeSpan Fresh = TimeSpan.FromSeconds(2);

    private readonly long began = time.GetTimestamp();

    /// <summary>What was watched so far.</summary>
    public TripWatch Watch { get; private set; } = before ?? TripWatch.Begun;

    /// <summary>One more state.</summary>
    /// <param name="now">The state.</param>
    /// <param name="at">Its instant by the calendar.</param>
    public void Seen(LinkSnapshot now, DateTimeOffset at)
    {
        if (now.Gate.Report is { } report && now.Age is { } age && age <= Fresh)
            Watch = Watch.After(at, time.GetElapsedTime(began), !report.Pressed.IsEmpty || report.Alarm is not null);
    }

    /// <summary>Watched time, trips, and what they prove and what not.</summary>
    public ImmutableArray<string> Told()
    {
        var row = new ReadingRow
        {
            Number = 1,
            Numbers = ImmutableDictionary<string, double>.Empty.Add("hours", Watch.Watched.TotalHours).Add("events", Watch.Trips),
            Words = ImmutableDictionary<string, string>.Empty,
        };
        var table = new ReadingTable { Source = "watch", Columns = ["hours", "events"], Rows = [row] };
        // Which machine it is, and so its limit, is not known here: what was counted is told and not judged.
        return CharacteristicKinds.Find("event-rate")!.Evaluate(table, new FitOptions()).Match<ImmutableArray<string>>(
            finding => [Watch.Words, .. finding.Remarks, "No limit is held against it here: the procedure 'noise' does that, with the limits of the machine.", "It proves this for the machine as it ran then: a spindle at rest, or an axis that stood, was not tested."],
            _ => [Watch.Words, "Nothing was watched long enough to prove anything."]);
    }
}
