using Commission.Core;
using Commission.Core.History;
using Commission.Core.Procedures;
using Commission.Core.Upkeep;

namespace Commission.Workshop.Sessions;

/// <content>A count of false trips that goes on for hours: kept while it counts, and found again by a run that is taken up.</content>
public sealed partial class ProcedureSession : ITripRecord
{
    private const string CountedItem = "noise";

    /// <inheritdoc/>
    public TripNote? CountSoFar()
    {
        TripNote? found = null;
        foreach (var entry in journal.Entries(number))
        {
            if (entry.Body is EntryBody.Noted { About: null, Text: var text } noted && noted.Run == number && TripNote.Read(text) is { } note)
                found = note;
            else if (entry.Body is EntryBody.ChangeTold told && told.Machine == request.Machine.Name && StaleTable.Find(told.Change)?.Items.Contains(CountedItem) == true)
                found = null;
        }

        return found;
    }

    /// <inheritdoc/>
    public Outcome<JournalEntry> KeepCount(TripNote note) => Append(new EntryBody.Noted(null, note.Words));
}
