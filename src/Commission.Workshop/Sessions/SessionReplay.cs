using System.Globalization;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Procedures;

namespace Commission.Workshop.Sessions;

/// <summary>Turns the entries of a run back into its events, so that an unfinished run goes on where it stood.</summary>
internal static class SessionReplay
{
    /// <summary>Word for a step that was done.</summary>
    public const string Done = "done";

    /// <summary>Word for a check made again.</summary>
    public const string Again = "again";

    /// <summary>Word for a change that was not made.</summary>
    public const string LeftAsIs = "left as it is";

    /// <summary>Word before the value of a change that was made.</summary>
    public const string Set = "set";

    /// <summary>Words before the reason of a question about a reading.</summary>
    public const string Question = "Question: ";

    /// <summary>Word for a reading kept though questioned.</summary>
    public const string Kept = "kept: it is what it reads";

    /// <summary>Words before the reason why there is no finding.</summary>
    public const string NoFinding = "No finding: ";

    /// <summary>Words for a set-up that was disturbed.</summary>
    public const string Disturbed = "the set-up was disturbed: own zero from here";

    /// <summary>The run after all its entries.</summary>
    public static ProcedureRun Replayed(ProcedureRun fresh, IEnumerable<JournalEntry> entries)
    {
        var all = Standing(entries);
        return all.Aggregate(fresh, (run, entry) => (EventOf(run, entry) ?? Undone(all, entry)) is { } happened ? run.After(happened) : run);
    }

    /// <summary>Whether an entry is the answer to what a step asked, and no reading.</summary>
    public static bool IsAnswer(EntryBody body) => body is EntryBody.Confirmed or EntryBody.Checked or EntryBody.Skipped;

    /// <summary>The entries without the answers that were taken back: those stay in the journal and are given anew.</summary>
    public static List<JournalEntry> Standing(IEnumerable<JournalEntry> entries)
    {
        var all = entries.ToList();
        var back = all.Select(entry => entry.Body is EntryBody.Noted { Text: EntryBody.Noted.TakenBack, About: { } about } ? about : 0).ToHashSet();
        all.RemoveAll(entry => IsAnswer(entry.Body) && back.Contains(entry.Sequence));
        return all;
    }

    // A withdrawal names the entry that took a reading out.
    private static RunEvent.PutBack? Undone(List<JournalEntry> all, JournalEntry entry) => entry.Body is not EntryBody.Withdrawn withdrawn ? null
        : all.Find(one => one.Sequence == withdrawn.Finding)?.Body switch
        {
            EntryBody.Excluded left => new(left.Reading),
            EntryBody.Superseded { By: null } old => new(old.Reading),
            _ => null,
        };

    private static RunEvent? EventOf(ProcedureRun run, JournalEntry entry) => entry.Body switch
    {
        EntryBody.Confirmed confirmed => OfConfirmation(run, confirmed),
        EntryBody.Checked made => made.Value is { } value ? new RunEvent.NumberGiven(made.Typed, value) : run.Needs is Need.Line ? new RunEvent.TextGiven(made.Typed) : new RunEvent.Chosen(made.Typed),
        EntryBody.Skipped skipped => new RunEvent.Skipped(skipped.Reason),
        EntryBody.ReadingTaken taken when run.OpenQuestion is not null => new RunEvent.SlipAnswered(SlipAnswer.AsSuggested, entry.Sequence) { Corrected = taken.Value },
        // The row of an evaluation was written down before its finding: it was answered already.
        EntryBody.ReadingTaken when run.Needs is Need.Evaluate => null,
        EntryBody.ReadingTaken taken => new RunEvent.ReadingTaken(entry.Sequence, taken.Typed, taken.Value) { Given = taken.Given },
        EntryBody.Superseded { By: null, Reason: TakenReading.TakenBack } back => new RunEvent.TakenBack(back.Reading),
        EntryBody.Superseded { By: null } superseded when run.OpenQuestion?.Earlier?.Sequence == superseded.Reading => new RunEvent.SlipAnswered(SlipAnswer.EarlierAgain, null),
        EntryBody.Superseded { By: null } superseded when run.OpenQuestion is not null => new RunEvent.SlipAnswered(SlipAnswer.ReadAgain, null),
        EntryBody.Superseded { By: null } superseded => new RunEvent.ReadAgain(superseded.Reading),
        EntryBody.Excluded excluded => new RunEvent.LeftOut(excluded.Reading, excluded.Reason),
        EntryBody.Noted { About: { } about, Text: var text } when text.StartsWith(Question, StringComparison.Ordinal) => Found(run, about, text[Question.Length..]),
        EntryBody.Noted { Text: Kept } when run.OpenQuestion is not null => new RunEvent.SlipAnswered(SlipAnswer.Keep, null),
        EntryBody.Noted { Text: var text } when text.StartsWith(NoFinding, StringComparison.Ordinal) => new RunEvent.NotEvaluated(text[NoFinding.Length..]),
        EntryBody.Noted { Text: Disturbed } => new RunEvent.SetUpDisturbed(),
        // Homing on the way to a place belongs to no step: it leads to no cell.
        EntryBody.Moved { Step: not null } => new RunEvent.Moved(),
        EntryBody.Stopped => new RunEvent.PositionLost(),
        EntryBody.FindingMade made => new RunEvent.Evaluated(entry.Sequence, made.Finding),
        _ => null,
    };

    // What was asked about may be an earlier reading than the one that made it known.
    private static RunEvent.SlipFound Found(ProcedureRun run, long reading, string reason)
    {
        var about = run.Readings.FirstOrDefault(one => one.Sequence == reading);
        if (about is not null && SignWatch.About(run, about) is { } sign && sign.Reason == reason)
            return new(reading, reason, sign.Suggestion);
        if (about is not null && InstrumentWatch.About(run, about, InstrumentWatch.Of(run, about), MachineWords.Of(MachineWords.Units, run.Machine.Units)) is { } beyond && beyond.Reason == reason)
            return new(reading, reason, beyond.Suggestion);
        var step = about?.Step;
        var newest = run.Readings.LastOrDefault(one => one.Stands && one.Step == step)?.Sequence ?? reading;
        return SlipWatch.About(run, newest) is { } notice && notice.Sequence == reading ? new(reading, reason, notice.Suggestion) { Earlier = notice.Earlier } : new(reading, reason, null);
    }

    private static RunEvent? OfConfirmation(ProcedureRun run, EntryBody.Confirmed confirmed) => run.Needs switch
    {
        Need.HazardsFirst => new RunEvent.HazardsRead(),
        Need.CheckOut => confirmed.Answer == Again ? new RunEvent.CheckRepeated() : null,
        Need.Choose => new RunEvent.Chosen(confirmed.Answer),
        Need.Line => new RunEvent.TextGiven(confirmed.Answer),
        Need.Wait => new RunEvent.Waited(),
        Need.Motion => new RunEvent.Moved(),
        Need.Number => YamlNumber(confirmed.Answer) is { } number ? new RunEvent.NumberGiven(confirmed.Answer, number) : null,
        Need.Change => confirmed.Answer == LeftAsIs ? new RunEvent.ChangeLeft() : new RunEvent.ChangeTold(YamlNumber(confirmed.Answer.Split(' ')[^1])),
        _ => new RunEvent.Confirmed(),
    };

    private static double? YamlNumber(string text) =>
        double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var value) ? value : null;
}
