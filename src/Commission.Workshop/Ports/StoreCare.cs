using System.Globalization;

namespace Commission.Workshop.Ports;

/// <summary>A copy on a stick or another disk.</summary>
/// <param name="At">When it was made, by the clock of then.</param>
/// <param name="Last">Sequence of the last entry in it.</param>
public sealed record CopyElsewhere(DateTimeOffset At, long Last);

/// <summary>What the bench tells of the copy elsewhere.</summary>
/// <param name="Copy">The last one; null where there is none.</param>
/// <param name="EntriesSince">Entries that are in the store and not in it.</param>
public sealed record CopyAge(CopyElsewhere? Copy, long EntriesSince)
{
    /// <summary>The age in a short sentence.</summary>
    /// <param name="now">The instant it is told at.</param>
    public string Sentence(DateTimeOffset now)
    {
        if (Copy is not { } copy)
            return "No copy elsewhere yet.";
        var age = now - copy.At;
        var when = age.TotalHours switch
        {
            < 0 => "after now: the clock was set back",
            < 24 => "today",
            < 48 => "yesterday",
            _ => string.Create(CultureInfo.InvariantCulture, $"{(int)age.TotalDays} days ago"),
        };
        return string.Create(CultureInfo.InvariantCulture, $"Last copy elsewhere: {when}{(EntriesSince == 0 ? ", it holds everything" : $", {EntriesSince} {(EntriesSince == 1 ? "entry" : "entries")} since")}.");
    }
}
