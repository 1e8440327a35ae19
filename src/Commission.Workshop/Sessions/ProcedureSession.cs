using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Workshop.Controllers;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Sessions;

/// <summary>A run bound to the journal: whatever happens is an entry on the medium before the run sees it.</summary>
public sealed partial class ProcedureSession
{
    private readonly IJournal journal;
    private readonly SessionRequest request;
    private readonly long number;

    // The first reading since this session was opened.
    private long? firstRead;

    // The run before anything happened in it.
    private readonly ProcedureRun fresh;

    // The run's machine with the facts that stand in the journal already.
    private Machine told;

    private ProcedureSession(IJournal journal, SessionRequest request, long number, ProcedureRun fresh, ProcedureRun? resumed = null)
    {
        (this.journal, this.request, this.number, this.fresh, Run, Resumed) = (journal, request, number, fresh, resumed ?? fresh, resumed is not null);
        told = Run.Machine;
    }

    /// <summary>The run as it stands.</summary>
    public ProcedureRun Run { get; private set; }

    /// <summary>What it waits for.</summary>
    public Need Needs => Run.Needs;

    /// <summary>Whether an unfinished run was taken up again.</summary>
    public bool Resumed { get; }

    /// <summary>Whether an entry could not be written: what was answered last is not on the medium.</summary>
    public bool StoreFailed { get; private set; }

    /// <summary>What carries out moves; null without a link.</summary>
    public IMotion? Motion => request.Motion;

    private IPositionWatch? Watch => request.Motion ?? request.Watch;

    /// <summary>Findings of this run in order.</summary>
    public ImmutableArray<Finding> Findings { get; private set; } = [];

    /// <summary>The finding made last since the session was opened, with what its fit was told; null before the first.</summary>
    public EntryBody.FindingMade? LastMade { get; private set; }

    /// <summary>The newest reading that stands; null before the first.</summary>
    public TakenReading? LastReading => Run.Readings.LastOrDefault(reading => reading.Stands);

    /// <summary>Sequence of the entry that began the run: its number.</summary>
    public long RunNumber => number;

    /// <summary>The hazards were read and done.</summary>
    public Outcome<ProcedureRun> HazardsRead() => Confirming(new RunEvent.HazardsRead(), "S");

    /// <summary>A step was done, a statement is true, drives were switched.</summary>
    public Outcome<ProcedureRun> Confirm()
    {
        var power = Needs as Need.Power;
        var outcome = Confirming(Needs switch { Need.Wait => new RunEvent.Waited(), Need.Motion { Linked: false } => new RunEvent.Moved(), _ => new RunEvent.Confirmed() }, SessionReplay.Done);
        if (power is not null && outcome is Outcome<ProcedureRun>.Good) Watch?.PowerChanged(power.DrivesOn);
        return outcome;
    }

    /// <summary>Why no reading may be accepted now over the link; null where one may, or where there is none.</summary>
    public string? WhyNoReading => Needs is Need.TakeReading asked ? Watch?.WhyNoReading(!asked.Cell.GoTo.IsEmpty) : null;

    /// <summary>The machine stands where the moves asked for lead: there is nothing to confirm.</summary>
    public Outcome<ProcedureRun> StandsThere() =>
        Needs is Need.Motion asked && request.Motion?.AlreadyThere(asked.Moves) == true
            ? Happening(new RunEvent.Moved(), () => new EntryBody.Moved(asked.Step, "stands there: " + asked.InWords()))
            : new Problem("the machine does not stand there", "Make the move");

    /// <summary>The move asked for is part of the one that follows it: there is nothing to confirm.</summary>
    public Outcome<ProcedureRun> OnTheWay() =>
        Needs is Need.Motion { Moves: [var move] } asked && request.Motion?.OnTheWay(move, asked.Then) == true
            ? Happening(new RunEvent.Moved(), () => new EntryBody.Moved(asked.Step, "on the way of the next move: " + asked.InWords()))
            : new Problem("the move is not part of the next one", "Make the move");

    /// <summary>What was moved for the next reading no longer counts: nobody knows where the machine stands.</summary>
    public ProcedureRun PositionLost()
    {
        Advance(new RunEvent.PositionLost());
        return Run;
    }

    /// <summary>A word was chosen.</summary>
    public Outcome<ProcedureRun> Choose(string word) => Needs is Need.Choose { Check: { } sheet } && Run.Current is { } item
        ? Checking(item, sheet, new RunEvent.Chosen(word), word, null, null)
        : Confirming(new RunEvent.Chosen(word), word);

    /// <summary>A number was given that is no reading.</summary>
    public Outcome<ProcedureRun> Number(string typed, double value) => Needs is Need.Number { Check: { } sheet } asked && Run.Current is { } item
        ? Checking(item, sheet, new RunEvent.NumberGiven(typed, value), typed, value, asked.Unit)
        : Confirming(new RunEvent.NumberGiven(typed, value), value.ToString("R", CultureInfo.InvariantCulture));

    /// <summary>A line of text was given.</summary>
    public Outcome<ProcedureRun> Text(string text) => Confirming(new RunEvent.TextGiven(text), text);

    /// <summary>A check is skipped with a typed reason.</summary>
    public Outcome<ProcedureRun> Skip(string reason)
    {
        var check = Run.Current?.Step as Step.Check;
        return Happening(new RunEvent.Skipped(reason), () => new EntryBody.Skipped(Needs.Step, check?.Id, reason));
    }

    /// <summary>The check that is out is made again.</summary>
    public Outcome<ProcedureRun> RepeatCheck() => Confirming(new RunEvent.CheckRepeated(), SessionReplay.Again);

    /// <summary>A reading: on the medium when this returns. A question about it may be open afterwards.</summary>
    /// <param name="typed">What was typed.</param>
    /// <param name="value">The value in the unit asked for.</param>
    /// <param name="commandedMm">The position really commanded, where it was another.</param>
    /// <returns>The reading as recorded.</returns>
    public Outcome<TakenReading> Read(string typed, double value, double? commandedMm = null)
    {
        if (Needs is not Need.TakeReading asked) return new Problem("no reading is asked for here", "Answer what is asked first");
        if (WhyNoReading is { } why)
        {
            if (!asked.Cell.GoTo.IsEmpty) PositionLost();
            return new Problem("the reading was not accepted: " + why, "Read what happened; then the machine is brought to the place again");
        }

        if (commandedMm is null && !asked.Cell.GoTo.IsEmpty && asked.Cell.GoTo[^1] is var last)
            commandedMm = Watch?.CommandedInstead(last.Axis, last.Mm);
        var trial = Run.After(new RunEvent.ReadingTaken(long.MaxValue, typed, value) { CommandedMm = commandedMm });
        if (trial.Note is { } note) return new Problem(note, "Type the reading again");
        var given = trial.Readings[^1].Cell;
        return Append(EntryOf(asked, given, typed, value))
            .Then(entry => Advance(new RunEvent.ReadingTaken(entry.Sequence, typed, value) { CommandedMm = commandedMm }).Then(run =>
            {
                var taken = run.Readings[^1];
                firstRead ??= taken.Sequence;
                return Question(entry.Sequence).Then<TakenReading>(_ => taken);
            }));
    }

    private EntryBody.ReadingTaken EntryOf(Need.TakeReading asked, Core.Plans.PlanCell given, string typed, double value) => new()
    {
        Recorded = Run.Readings.Length + 1, Step = asked.Step, Cell = asked.Index, Place = given.Place, Typed = typed, Value = value, Unit = asked.Unit,
        Given = given.Given, Words = given.Words, Instrument = InstrumentOf(Run.Current?.Step as Step.Read)?.Name,
    };

    /// <summary>A reading that stands is to be taken again.</summary>
    public Outcome<ProcedureRun> ReadAgain(long sequence) =>
        Happening(new RunEvent.ReadAgain(sequence), () => new EntryBody.Superseded(sequence, null, "read again"));

    /// <summary>A reading is left out of the evaluation, with its reason.</summary>
    public Outcome<ProcedureRun> LeaveOut(long sequence, string reason) =>
        Happening(new RunEvent.LeftOut(sequence, reason), () => new EntryBody.Excluded(sequence, reason));

    /// <summary>The set-up was, or may have been, disturbed: readings from here on have a zero of their own.</summary>
    public Outcome<ProcedureRun> SetUpDisturbed() => Happening(new RunEvent.SetUpDisturbed(), () => new EntryBody.Noted(null, SessionReplay.Disturbed));

    /// <summary>The moves asked for were made over the link, and the machine rests where they end.</summary>
    /// <param name="words">The moves as they were made.</param>
    public Outcome<ProcedureRun> MovesMade(string words) => Needs is Need.Motion
        ? Happening(new RunEvent.Moved(), () => new EntryBody.Moved(Needs.Step, words))
        : new Problem("no move is asked for here", "Answer what is asked first");

    /// <summary>Makes the proposed moves, confirmed by the token that was shown and typed.</summary>
    public async Task<Outcome<ProcedureRun>> MoveAsync(string token, CancellationToken cancellation)
    {
        if (request.Motion is not { } motion || Needs is not (Need.Motion or Need.TakeReading)) return new Problem("no move is asked for here", "Answer what is asked first");
        var made = await motion.CarryOutAsync(token, words => Append(BegunMove.Entry(words, request.Machine.Name, number)).Then<ProcedureRun>(_ => Run), cancellation).ConfigureAwait(false);
        return made.Match(
            words => motion.MoreToCome || Needs is not Need.Motion
                ? Append(new EntryBody.Moved(null, words)).Then<ProcedureRun>(_ => Run)
                : Happening(new RunEvent.Moved(), () => new EntryBody.Moved(Needs.Step, words)),
            problems =>
            {
                // What was never begun leaves the machine where it was.
                if (StoreFailed || problems.All(problem => !problem.IsFailure)) return NotBegun(problems);
                PositionLost();
                var stopped = Append(new EntryBody.Stopped(string.Join(" ", problems.Select(problem => problem.What)), null));
                return new Outcome<ProcedureRun>.Bad(stopped.Match(_ => problems, more => [.. problems, .. more]));
            });
    }

    // Entered, and then refused: nothing is under way.
    private Outcome<ProcedureRun> NotBegun(ImmutableArray<Problem> problems) =>
        !StoreFailed && journal.LastEntry?.Body.Begun() is not null && Append(new EntryBody.Noted(null, EntryBody.Noted.NothingMoved)) is Outcome<JournalEntry>.Bad more
            ? new Outcome<ProcedureRun>.Bad([.. problems, .. more.Problems]) : new Outcome<ProcedureRun>.Bad(problems);

    /// <summary>Evaluates the readings the run asks to be evaluated. What cannot be evaluated is noted with its reason, and the run goes on.</summary>
    /// <returns>The finding; null with the problems where there is none.</returns>
    public Outcome<Finding> Evaluate()
    {
        if (Needs is not Need.Evaluate asked) return new Problem("no evaluation is asked for here", "Answer what is asked first");
        var kind = CharacteristicKinds.Find(asked.Kind);
        var outcome = kind is null
            ? new Problem($"'{asked.Kind}' is no kind of characteristic", "Check the procedure with 'procedure check'")
            : Judged(kind, asked);
        return outcome.Match(
            judged => Behind(asked, kind!).Then(behind => Kept(asked with { Sequences = behind }, WithKept(judged.Finding, asked), judged.Options)),
            problems => NotEvaluated(problems));
    }

    // A step that names another kind of instrument is read with the owner's of that kind; where there is none, with one nobody knows.
    private Core.Instruments.Instrument? InstrumentOf(Step.Read? read) => read?.With is { } kind && request.Instrument?.Kind != kind
        ? request.Instruments.FirstOrDefault(instrument => instrument.Kind == kind)
        : request.Instrument;

    private Step.Read? ReadFor(string evaluation) => Run.Items.FirstOrDefault(item => item.Name == evaluation)?.Step is Step.Evaluate evaluate
        ? Run.Procedure.AllSteps.OfType<Step.Read>().FirstOrDefault(read => evaluate.Groups.Contains(read.Group))
        : null;

    private Outcome<Finding> Kept(Need.Evaluate asked, Finding finding, FitOptions options)
    {
        var body = new EntryBody.FindingMade
        {
            Characteristic = asked.Kind, Axis = asked.Options.Axis is { } axis ? MachineWords.Of(MachineWords.Axes, axis) : null, Place = asked.Place,
            Readings = asked.Sequences, Instrument = options.Instrument?.Name, Finding = finding, Options = options,
        };
        return Append(body).Then<Finding>(entry =>
        {
            (Findings, LastMade) = (Findings.Add(finding), body);
            return Advance(new RunEvent.Evaluated(entry.Sequence, finding)).Then(_ => KeptStudy(finding)).Then<Finding>(_ => finding);
        });
    }

    // A study of the hand is used by every later fit: it stands in the journal under operator and instrument too.
    private Outcome<ProcedureRun> KeptStudy(Finding finding)
    {
        if (CharacteristicKinds.Find(finding.Kind) is not { IsHandStudy: true } || request.Instrument is null) return Run;
        if (finding.Headline is not { Value: { } deviation, DegreesOfFreedom: { } freedom }) return Run;
        // What no hand does is a finding to be looked into, and no study for later fits.
        if (finding.Advice.Action == AdviceAction.FindTheFault) return Run;
        var study = new Core.Instruments.HandStudy(request.Operator ?? Core.Instruments.HandStudy.Unnamed, request.Instrument.Name, deviation, freedom);
        return Append(new EntryBody.StudyMade(study)).Then<ProcedureRun>(_ => Run);
    }

    private Outcome<Finding> NotEvaluated(ImmutableArray<Problem> problems)
    {
        var why = string.Join(" ", problems.Select(problem => problem.ToString()));
        var noted = Append(new EntryBody.Noted(null, SessionReplay.NoFinding + why));
        if (noted is Outcome<JournalEntry>.Bad bad) return new Outcome<Finding>.Bad(bad.Problems);
        return Advance(new RunEvent.NotEvaluated(why)).Then(_ => new Outcome<Finding>.Bad(problems));
    }

    /// <summary>The run ends before its end, or is put aside to be taken up later.</summary>
    /// <param name="how"><c>aborted</c> or <c>put-aside</c>.</param>
    /// <param name="reason">Why.</param>
    public Outcome<ProcedureRun> Leave(string how, string reason) =>
        Happening(new RunEvent.Left(how, reason), () => new EntryBody.RunEnded(how, reason));

    private Outcome<ProcedureRun> Checking(RunItem item, CheckSheet sheet, RunEvent happened, string typed, double? value, string? unit)
    {
        var trial = Run.After(happened);
        return Happening(happened, () => new EntryBody.Checked
        {
            Step = item.Name, Check = sheet.Id, Typed = typed, Value = value, Unit = unit, Limit = sheet.KeptLimit, Source = sheet.Source, Passed = trial.CheckFound is null,
        });
    }

    private Outcome<ProcedureRun> Confirming(RunEvent happened, string answer)
    {
        var step = Needs.Step;
        return Happening(happened, () => new EntryBody.Confirmed(step, answer));
    }

    // The event is tried first: what the run would not take never reaches the journal.
    private Outcome<ProcedureRun> Happening(RunEvent happened, Func<EntryBody> body)
    {
        var trial = Run.After(happened);
        if (trial.Note is { } note) return new Problem(note, "Answer what is asked");
        return Append(body()).Then(_ => Advance(happened));
    }

    // A run that came to its end says so in the journal; facts that a step has set are the machine's from then on.
    private Outcome<ProcedureRun> Advance(RunEvent happened)
    {
        Run = Run.After(happened);
        return Following(happened is not RunEvent.Left);
    }

    // What else was described, written or told while the run was put aside stands: only what this run was told is put into it.
    private Outcome<ProcedureRun> Following(bool endIsToBeTold)
    {
        if (Run.Machine != told)
        {
            var known = journal.Present(request.Machine.Name).Ledger.Machines.TryGetValue(request.Machine.Name, out var record) ? record.Description : request.Machine;
            if (Append(new EntryBody.MachineDescribed(MachineFacts.Carried(known, told, Run.Machine), Retired: false)) is Outcome<JournalEntry>.Bad facts)
                return new Outcome<ProcedureRun>.Bad(facts.Problems);
            told = Run.Machine;
        }

        if (Run.HasEnded && endIsToBeTold && Append(new EntryBody.RunEnded(Run.How!, Run.WhyEnded)) is Outcome<JournalEntry>.Bad end)
            return new Outcome<ProcedureRun>.Bad(end.Problems);
        return Run;
    }

    private Outcome<JournalEntry> Append(EntryBody body)
    {
        var outcome = journal.Append(Stamped(body));
        StoreFailed |= outcome is Outcome<JournalEntry>.Bad;
        return outcome;
    }

    private EntryBody Stamped(EntryBody body) => body with { Machine = request.Machine.Name, Operator = request.Operator, Run = number };
}
