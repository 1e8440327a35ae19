using System.Collections.Immutable;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Procedures;

namespace Commission.Workshop.Sessions;

/// <content>One step back: a wrong answer is taken back by an entry that names it, and its step asks again.</content>
public sealed partial class ProcedureSession
{
    // The name of what stands before the first step.
    private const string Hazards = "hazards";

    private (long Sequence, Outcome<JournalEntry> Entry)? last;

    /// <summary>
    /// What was done last and can be taken back: an answer, a reading, or that a reading was left out or is to be read again. Where none of
    /// them can, why not. What was done at the machine stays done: behind a move, a written setting or a finding there is no way back.
    /// </summary>
    public Outcome<JournalEntry> LastDone
    {
        get
        {
            // Sheets ask many times between two entries.
            var now = journal.LastEntry?.Sequence ?? 0;
            if (last is not { } known || known.Sequence != now)
                last = known = (now, Newest());
            return known.Entry;
        }
    }

    /// <summary>
    /// One step back, by an entry that names what it takes back; again and again it leads back to the beginning, never forth. An answer stays
    /// in the journal, taken back, and its step asks again; so does a reading, and its cell is read again; a reading that was left out or is
    /// to be read again is as it was before. No run ends by it.
    /// </summary>
    /// <returns>What was taken back.</returns>
    public Outcome<JournalEntry> TakeBack() => LastDone.Then(entry => (entry.Body switch
    {
        EntryBody.ReadingTaken => TakeBack(entry.Sequence),
        EntryBody.Excluded left => PutBack(left.Reading),
        EntryBody.Superseded again => PutBack(again.Reading),
        _ => WithoutAnswer(entry.Sequence),
    }).Then<JournalEntry>(_ => entry));

    /// <summary>A reading that stands is taken back: its cell is read again.</summary>
    /// <param name="sequence">Sequence of the reading.</param>
    public Outcome<ProcedureRun> TakeBack(long sequence) =>
        Happening(new RunEvent.TakenBack(sequence), () => new EntryBody.Superseded(sequence, null, TakenReading.TakenBack));

    private Outcome<ProcedureRun> WithoutAnswer(long sequence) => Append(new EntryBody.Noted(sequence, EntryBody.Noted.TakenBack)).Then(_ =>
    {
        // Nobody knows where the machine stands by the answers alone.
        Run = SessionReplay.Replayed(fresh, Own()).After(new RunEvent.PositionLost());
        return Following(endIsToBeTold: false);
    });

    private ImmutableArray<JournalEntry> Own() => [.. journal.Entries(number).Where(entry => entry.Body.Run == number)];

    private Outcome<JournalEntry> Newest()
    {
        if (Run.HasEnded)
            return new Problem("the run has ended", "What was measured can be taken back on the log");
        var own = SessionReplay.Standing(Own());
        var answer = own.FindLast(entry => SessionReplay.IsAnswer(entry.Body));
        if (TakenOut(own) is { } entry && entry.Sequence > Math.Max(answer?.Sequence ?? 0, LastReading?.Sequence ?? 0))
            return entry;
        if (LastReading is { } reading && reading.Sequence > (answer?.Sequence ?? 0))
        {
            return Run.After(new RunEvent.TakenBack(reading.Sequence)).Note is { } note
                ? new Problem(note, "N notes what was wrong")
                : own.First(entry => entry.Sequence == reading.Sequence);
        }

        var step = answer?.Body switch { EntryBody.Confirmed done => done.Step, EntryBody.Checked made => made.Step, EntryBody.Skipped skipped => skipped.Step, _ => Hazards };
        if (answer is null || step == Hazards)
            return new Problem("nothing was answered yet", "Answer what is asked");
        var atTheMachine = Run.Items.FirstOrDefault(item => item.Name == step)?.Step is Step.MoveMachine or Step.Change or Step.Read;
        return atTheMachine || own.Any(entry => entry.Sequence > answer.Sequence && Seals(entry.Body))
            ? new Problem("what was done at the machine since stays done", "N notes what was wrong")
            : answer;
    }

    // That a reading was left out, or is to be read again while nothing was read since; what was taken back is not brought back by going on back.
    private JournalEntry? TakenOut(List<JournalEntry> own)
    {
        var undone = own.Select(entry => entry.Body).OfType<EntryBody.Withdrawn>().Select(back => back.Finding).ToHashSet();
        var read = own.FindLast(entry => entry.Body is EntryBody.ReadingTaken)?.Sequence ?? 0;
        return own.FindLast(entry => !undone.Contains(entry.Sequence) && entry.Body switch
        {
            EntryBody.Excluded left => Run.Readings.Any(reading => reading.Sequence == left.Reading && reading is { Stands: true, Excluded: not null }) && MayReturn(left.Reading),
            EntryBody.Superseded { By: null, Reason: not TakenReading.TakenBack } again => entry.Sequence > read && MayReturn(again.Reading),
            _ => false,
        });
    }

    private bool MayReturn(long reading) => Run.After(new RunEvent.PutBack(reading)) is { Note: null, HasEnded: false, Needs: not Need.Evaluate };

    private static bool Seals(EntryBody body) => body is EntryBody.Moved { Step: not null } or EntryBody.FindingMade or EntryBody.SettingWritten or EntryBody.ChangeTold
        || (body is EntryBody.Noted { About: null, Text: var text } && text.StartsWith(SessionReplay.NoFinding, StringComparison.Ordinal));
}
