using System.Collections.Immutable;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Procedures;
using Commission.Workshop.Requests;

namespace Commission.Workshop.Sessions;

/// <content>Evaluations whose row is made of answers to checks: the row stands in the journal as a reading, so that the finding can be computed again.</content>
public sealed partial class ProcedureSession
{
    // Where the program ended between the row and its finding, the row is there already.
    private Outcome<ImmutableArray<long>> Behind(Need.Evaluate asked, CharacteristicKind kind)
    {
        if (!asked.Sequences.IsEmpty || asked.Readings.Rows is not [var row])
            return asked.Sequences;
        var written = RowEntry.Of(row, asked.Readings, kind, asked.Step, "as answered") with { Recorded = Run.Readings.Length + 1 };
        var there = journal.Present(request.Machine.Name).Ledger.ReadingsOf(number).LastOrDefault(reading => Same(reading.Taken.Body, written));
        return there is not null ? ImmutableArray.Create(there.Sequence) : Append(written).Then<ImmutableArray<long>>(entry => ImmutableArray.Create(entry.Sequence));
    }

    private static bool Same(EntryBody.ReadingTaken one, EntryBody.ReadingTaken other) =>
        one.Step == other.Step && one.Typed == other.Typed && one.Value.Equals(other.Value) && one.Given.SequenceEqual(other.Given);
}
