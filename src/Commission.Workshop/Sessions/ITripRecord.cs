using Commission.Core;
using Commission.Core.History;
using Commission.Core.Procedures;

namespace Commission.Workshop.Sessions;

/// <summary>Where a count of false trips is kept while it counts.</summary>
public interface ITripRecord
{
    /// <summary>What the run counted before the program ended; null where it counted nothing, or where wiring or controller were changed since, about which old hours say nothing; a change that was taken back does not count.</summary>
    TripNote? CountSoFar();

    /// <summary>Keeps a count: on the medium when this returns.</summary>
    /// <param name="note">The count.</param>
    Outcome<JournalEntry> KeepCount(TripNote note);
}
