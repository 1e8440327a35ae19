namespace Commission.Core.Procedures;

/// <summary>False trips counted while somebody, or the link, looks: the time that was really watched, and how often a switch or an alarm came up in it.</summary>
/// <remarks>Time in which nothing was seen proves nothing: where the computer slept or the link was silent the clean time is split, and the hole is counted as a hole.</remarks>
public sealed record TripWatch
{
    /// <summary>Two looks further apart than this leave a hole between them.</summary>
    public static readonly TimeSpan LongestGap = TimeSpan.FromSeconds(5);

    // Running is null where the look was taken by a program that has ended since: its clock says nothing to this one's.
    private (DateTimeOffset Wall, TimeSpan? Running, bool Tripped)? Last { get; init; }

    /// <summary>A watch that has seen nothing yet.</summary>
    public static TripWatch Begun { get; } = new();

    /// <summary>Time watched, holes left out.</summary>
    public TimeSpan Watched { get; private init; }

    /// <summary>Time in holes.</summary>
    public TimeSpan Unseen { get; private init; }

    /// <summary>Pieces of watched time; 0 before the first look.</summary>
    public int Pieces { get; private init; }

    /// <summary>Trips: each counts once, from its coming up to its being cleared. One that was there after a hole counts too.</summary>
    public int Trips { get; private init; }

    /// <summary>The last look: its instant, and whether a trip was up; null before the first.</summary>
    public (DateTimeOffset At, bool Up)? LastLook => Last is { } last ? (last.Wall, last.Tripped) : null;

    /// <summary>A watch that goes on where one that was kept had ended; whatever lies between is a hole.</summary>
    /// <param name="watched">Time watched.</param>
    /// <param name="unseen">Time in holes.</param>
    /// <param name="pieces">Pieces, at least 1.</param>
    /// <param name="trips">Trips.</param>
    /// <param name="last">The last look.</param>
    public static TripWatch GoingOn(TimeSpan watched, TimeSpan unseen, int pieces, int trips, (DateTimeOffset At, bool Up) last) =>
        new() { Watched = watched, Unseen = unseen, Pieces = pieces, Trips = trips, Last = (last.At, null, last.Up) };

    /// <summary>The watch after one more look.</summary>
    /// <param name="wall">Instant by the calendar: it goes on while a computer sleeps.</param>
    /// <param name="running">Time by a clock that never jumps; it may stand still while a computer sleeps.</param>
    /// <param name="tripped">Whether a switch shows as pressed, or the machine stands in alarm.</param>
    public TripWatch After(DateTimeOffset wall, TimeSpan running, bool tripped)
    {
        var next = this with { Last = (wall, running, tripped), Trips = Trips + (tripped && Last is not { Tripped: true } ? 1 : 0) };
        if (Last is not { } last)
            return next with { Pieces = 1 };
        var calendar = wall - last.Wall;
        if (last.Running is not { } before)
            return next with { Pieces = Pieces + 1, Unseen = Unseen + (calendar > TimeSpan.Zero ? calendar : TimeSpan.Zero) };
        var ran = running - before;
        var longer = calendar > ran ? calendar : ran;
        // A calendar that was set back is no hole; one that jumped ahead cannot be told from sleep.
        return longer > LongestGap
            ? next with { Pieces = Pieces + 1, Unseen = Unseen + longer }
            : next with { Watched = Watched + ran };
    }

    /// <summary>The number that a step asks for: hours to the fourth decimal, a third of a second, or trips.</summary>
    public double Of(WatchCount what) => what == WatchCount.Hours ? Math.Round(Watched.TotalHours, 4) : Trips;

    /// <summary>What was watched, in sentences; what it proves is told by the event rate.</summary>
    public string Words
    {
        get
        {
            var trips = Trips == 1 ? "1 trip" : FormattableString.Invariant($"{Trips} trips");
            var pieces = Pieces > 1 ? FormattableString.Invariant($" in {Pieces} pieces; {Unseen.TotalHours:0.##} h between them were not seen and do not count") : "";
            return FormattableString.Invariant($"Watched {Watched.TotalHours:0.###} h{pieces}: {trips}.");
        }
    }
}

/// <summary>What a step asks of a watch.</summary>
public enum WatchCount
{
    /// <summary>Hours watched, holes left out.</summary>
    Hours,

    /// <summary>Trips in them.</summary>
    Trips,
}
