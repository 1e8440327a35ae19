using System.Collections.Immutable;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Workshop.Ports;
using static System.FormattableString;

namespace Commission.Workshop.Requests;

/// <summary>Enters the readings and the finding of a file into the store, as a run of their own.</summary>
public sealed class KeepFit(IJournal journal)
{
    private const string Procedure = "from-file";

    /// <summary>Enters them; the readings are on the medium before the finding that rests on them.</summary>
    /// <param name="fitted">What the fit of the file gave.</param>
    /// <param name="kind">The kind of characteristic.</param>
    /// <param name="machine">The machine the readings were taken on.</param>
    /// <param name="fileHash">Hash of the file's text.</param>
    public Outcome<FitAnswer> Run(FitAnswer fitted, CharacteristicKind kind, Machine machine, string fileHash)
    {
        var axis = fitted.Options.Axis?.ToString();
        return journal.Append(new EntryBody.RunStarted { Machine = machine.Name, Procedure = Procedure, ProcedureHash = fileHash, Axis = axis, Instrument = fitted.Options.Instrument?.Name })
            .Then(started => Readings(fitted, kind, machine, started.Sequence).Then(sequences => journal.Append(new EntryBody.FindingMade
            {
                Machine = machine.Name,
                Run = started.Sequence,
                Characteristic = kind.Id,
                Axis = axis,
                Place = SquarePlane.Upright(fitted.Options),
                Readings = sequences,
                Instrument = fitted.Options.Instrument?.Name,
                Finding = fitted.Finding,
                Options = fitted.Options,
            })).Then(_ => journal.Append(new EntryBody.RunEnded("completed", null) { Machine = machine.Name, Run = started.Sequence })))
            .Then<FitAnswer>(_ => fitted);
    }

    private Outcome<ImmutableArray<long>> Readings(FitAnswer fitted, CharacteristicKind kind, Machine machine, long run)
    {
        var sequences = ImmutableArray.CreateBuilder<long>();
        foreach (var row in fitted.Readings.Rows)
        {
            var entry = RowEntry.Of(row, fitted.Readings, kind, Procedure, Invariant($"row {row.Number}"));
            var outcome = journal.Append(entry with { Machine = machine.Name, Run = run, Instrument = row.Instrument ?? fitted.Options.Instrument?.Name })
                .Then(taken => row.Excluded is { } reason ? journal.Append(new EntryBody.Excluded(taken.Sequence, reason) { Machine = machine.Name, Run = run }).Then<JournalEntry>(_ => taken) : taken);
            if (outcome is Outcome<JournalEntry>.Bad bad)
                return new Outcome<ImmutableArray<long>>.Bad(bad.Problems);
            sequences.Add(((Outcome<JournalEntry>.Good)outcome).Value.Sequence);
        }

        return sequences.ToImmutable();
    }
}
