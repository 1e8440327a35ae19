using Commission.Core;
using Commission.Core.History;
using Commission.Core.Procedures;
using Commission.Core.Upkeep;

namespace Commission.Workshop.Sessions;

/// <content>A count of false trips that goes on for hours: kept while it counts, and found again by a run that is taken up.</content>
public sealed partial class ProcedureSession : ITripRecord
{
    private const string CountedItem = "noise";

    /// <summary>Whether trips counted before a change say nothing about the time after it: what they are counted of is made stale. A crash only puts it in doubt.</summary>
    /// <param name="change">Word of the change.</param>
    public static bool BeginsAnotherCount(string change) => StaleTable.Find(change) is { Effect: ChangeEffect.Stale } row && row.Items.Contains(CountedItem);

    /// <inheritdoc/>
    public TripNote? CountSoFar()
    {
        TripNote? found = null;
        var back = journal.Entries(number).Select(entry => entry.Body).OfType<EntryBody.Withdrawn>().Select(withdrawn => withdrawn.Finding).ToHashSet();
        foreach (var entry in journal.Entries(number))
        {
            if (entry.Body is EntryBody.Noted { About: null, Text: var text } noted && noted.Run == number && TripNote.Read(text) is { } note)
                found = note;
            else if (entry.Body is EntryBody.ChangeTold told && told.Machine == request.Machine.Name && BeginsAnotherCount(told.Change) && !back.Contains(entry.Sequence))
                found = null;
        }

        return found;
    }

    // A run that has ended or was put aside is not opened again by a count.
    /// <inheritdoc/>
    public Outcome<JournalEntry> KeepCount(TripNote note) => Run.HasEnded
        ? new Problem("the run has ended or was put aside, and counts no more", "Take it up, and the counting goes on")
        : Append(new EntryBody.Noted(null, note.Words));
}
