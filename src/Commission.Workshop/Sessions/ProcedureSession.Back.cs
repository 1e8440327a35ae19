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
    /// What was done last and can be taken back: an answer, or a reading. Where neither can, why not. What was done at the machine stays
    /// done: behind a move, a written setting or a finding there is no way back.
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

    /// <summary>Takes back the last answer: it stays in the journal, taken back, and its step asks again.</summary>
    /// <returns>The answer that was taken back.</returns>
    public Outcome<JournalEntry> TakeBackAnswer() => LastDone.Then(entry => entry.Body is EntryBody.ReadingTaken
        ? new Problem("readings were taken since", "Take them back first")
        : Append(new EntryBody.Noted(entry.Sequence, EntryBody.Noted.TakenBack)).Then(_ =>
        {
            // Nobody knows where the machine stands by the answers alone.
            Run = SessionReplay.Replayed(fresh, Own()).After(new RunEvent.PositionLost());
            return Following(endIsToBeTold: false);
        }).Then<JournalEntry>(_ => entry));

    private ImmutableArray<JournalEntry> Own() => [.. journal.Entries(number).Where(entry => entry.Body.Run == number)];

    private Outcome<JournalEntry> Newest()
    {
        if (Run.HasEnded)
            return new Problem("the run has ended", "What was measured can be taken back on the log");
        var own = SessionReplay.Standing(Own());
        var answer = own.FindLast(entry => SessionReplay.IsAnswer(entry.Body));
        if (LastReading is { } reading && reading.Sequence > (answer?.Sequence ?? 0))
        {
            return Run.After(new RunEvent.ReadAgain(reading.Sequence)).Note is { } note
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

    private static bool Seals(EntryBody body) => body is EntryBody.Moved { Step: not null } or EntryBody.FindingMade or EntryBody.SettingWritten or EntryBody.ChangeTold
        || (body is EntryBody.Noted { About: null, Text: var text } && text.StartsWith(SessionReplay.NoFinding, StringComparison.Ordinal));
}
