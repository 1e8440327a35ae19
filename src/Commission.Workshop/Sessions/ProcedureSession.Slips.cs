using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Workshop.Requests;

namespace Commission.Workshop.Sessions;

/// <content>Readings that look like slips: asked about as soon as it can be known which one is odd, and before anything stands on them.</content>
public sealed partial class ProcedureSession
{
    // The program may have ended between a reading and the question about it.
    private ImmutableArray<Problem>? AskedAbout()
    {
        var newest = Run.Readings.LastOrDefault();
        return newest is { Stands: true, KeptThoughQuestioned: false } && Run.OpenQuestion is null && Run.Needs is not Need.Ended
            && !journal.Entries(newest.Sequence).Any(entry => entry.Body is EntryBody.Noted noted && noted.About == newest.Sequence)
            ? Question(newest.Sequence).Match(_ => (ImmutableArray<Problem>?)null, problems => problems)
            : null;
    }

    private Outcome<ProcedureRun> Question(long sequence)
    {
        if (Run.OpenQuestion is not null || Run.Readings.FirstOrDefault(one => one.Sequence == sequence && one.Stands) is not { } reading) return Run;
        var odd = SignWatch.About(Run, reading) is null ? SlipWatch.About(Run, sequence) : null;
        if ((SignWatch.About(Run, reading) ?? odd ?? Impossible(reading) ?? Doubted(reading)) is not { } notice) return Run;
        return Happening(
            new RunEvent.SlipFound(notice.Sequence, notice.Reason, notice.Suggestion) { OtherZero = odd?.Sequence == sequence && MayBeOnAnotherZero(reading), Earlier = notice.Earlier },
            () => new EntryBody.Noted(notice.Sequence, SessionReplay.Question + notice.Reason));
    }

    // The first reading since the run was taken up: what was zeroed meanwhile shows itself in it.
    private bool MayBeOnAnotherZero(TakenReading reading) => Resumed && firstRead == reading.Sequence && Run.MayHaveOwnZero && Run.Current?.Name == reading.Step
        && reading.Zero.Length == 0 && reading.Cell.Given.ContainsKey("commanded_mm");

    // What the instrument cannot have shown, though it lies with the others.
    private SlipNotice? Impossible(TakenReading reading) => reading.KeptThoughQuestioned ? null
        : InstrumentWatch.About(Run, reading, InstrumentOf(ReadStep(reading.Step)), MachineWords.Of(MachineWords.Units, Run.Machine.Units));

    // All places of the step are read: what its evaluation would name is asked about while the instrument is there.
    private SlipNotice? Doubted(TakenReading newest)
    {
        if (Run.HasEnded || Run.Current?.Name == newest.Step || Run.Ahead(newest.Step) is not { } asked || CharacteristicKinds.Find(asked.Kind) is not { } kind
            || Judged(kind, WithoutKept(asked)) is not Outcome<(Finding Finding, FitOptions Options)>.Good { Value: var judged }) return null;
        var rows = judged.Finding.Suspects.Where(suspect => suspect.Row > 0 && suspect.Row <= asked.Sequences.Length).ToList();
        var among = rows.Count;
        foreach (var suspect in rows)
        {
            if (Run.Readings.FirstOrDefault(one => one.Sequence == asked.Sequences[suspect.Row - 1] && one is { Excluded: null, KeptThoughQuestioned: false }) is { } odd && !(among > 1 && LooksTheSame(odd)))
                return About(odd, suspect, SlipInFit.Of(kind, asked.Readings, judged.Options, suspect.Row, odd.Column, Run.Machine.Units.Shown()));
        }

        return null;
    }

    // Of several that may be off, one that was read again and shows the same is not the one.
    private bool LooksTheSame(TakenReading reading) => Run.ReadsTheSame(reading, 2 * (InstrumentOf(ReadStep(reading.Step))?.ResolutionMm ?? 0.01));

    // What was kept though it was asked about, and what lies with it, was answered: it makes no other reading look odd.
    private Need.Evaluate WithoutKept(Need.Evaluate asked)
    {
        var kept = Run.Readings.Where(one => one is { Stands: true, Excluded: null } && (one.KeptThoughQuestioned || SlipWatch.LiesWithKept(Run, one))).Select(one => one.Sequence).ToHashSet();
        return kept.Count == 0 || asked.Sequences.Length != asked.Readings.Rows.Length ? asked : asked with
        {
            Readings = asked.Readings with { Rows = [.. asked.Readings.Rows.Select((row, i) => kept.Contains(asked.Sequences[i]) ? row with { Excluded = row.Excluded ?? SessionReplay.Kept } : row)] },
        };
    }

    private static SlipNotice About(TakenReading odd, Suspect suspect, (double Meant, string Slip)? slip)
    {
        var (reason, typed) = (suspect.Reason.TrimEnd('.'), PlainText.Of(odd.Typed).Replace(',', '.'));
        reason = reason.StartsWith("It ", StringComparison.Ordinal) ? typed + reason[2..] : $"{typed}: {reason}";
        return new SlipNotice(slip is { } known ? $"{reason}; perhaps {known.Slip}" : reason, slip?.Meant, odd.Sequence);
    }

    /// <summary>Symbol of the unit in which a reading of this run is kept.</summary>
    public string UnitOf(TakenReading reading) => ReadStep(reading.Step)?.Unit ?? "mm";

    private Step.Read? ReadStep(string name) => Run.Items.First(item => item.Name == name).Step as Step.Read;

    /// <summary>The question about a reading is answered; a corrected value is a reading of its own that names the old one. Another question may be open afterwards.</summary>
    public Outcome<ProcedureRun> AnswerSlip(SlipAnswer answer)
    {
        if (Run.OpenQuestion is not { } question) return new Problem("no question about a reading is open", "Answer what is asked first");
        return Answered(question, answer).Then(run => answer is SlipAnswer.ReadAgain or SlipAnswer.EarlierAgain ? run : Next(question.Reading.Step));
    }

    // With one settled another one may be seen.
    private Outcome<ProcedureRun> Next(string step) =>
        Run.Readings.LastOrDefault(reading => reading.Stands && reading.Step == step) is { } newest ? Question(newest.Sequence) : Run;

    private Outcome<ProcedureRun> Answered(Need.SlipQuestion question, SlipAnswer answer)
    {
        var old = question.Reading;
        switch (answer)
        {
            case SlipAnswer.ReadAgain:
                return Happening(new RunEvent.SlipAnswered(answer, null), () => new EntryBody.Superseded(old.Sequence, null, "read again: " + question.Reason));
            case SlipAnswer.EarlierAgain when question.Earlier is { } earlier:
                return Happening(new RunEvent.SlipAnswered(answer, null), () => new EntryBody.Superseded(earlier.Sequence, null, "read again: " + question.Reason));
            case SlipAnswer.AsSuggested when question.Suggestion is { } value:
                var corrected = new EntryBody.ReadingTaken
                {
                    Recorded = Run.Readings.Length + 1, Step = old.Step, Cell = old.CellIndex, Place = old.Cell.Place, Typed = Run.AsTyped(value), Value = value,
                    Unit = "mm", Given = old.Cell.Given, Words = old.Cell.Words, Instrument = InstrumentOf(ReadStep(old.Step))?.Name,
                };
                return Append(corrected)
                    .Then(entry => Advance(new RunEvent.SlipAnswered(answer, entry.Sequence))
                        .Then(_ => Append(new EntryBody.Superseded(old.Sequence, entry.Sequence, Corrected + question.Reason)))
                        .Then<ProcedureRun>(_ => Run));
            case SlipAnswer.OwnZero when question.OtherZero:
                // The value is right; only its zero is another: it is taken anew on the zero of its own.
                return Happening(new RunEvent.SlipAnswered(SlipAnswer.ReadAgain, null), () => new EntryBody.Superseded(old.Sequence, null, "taken on a zero of its own"))
                    .Then(_ => SetUpDisturbed()).Then(_ => Read(old.Typed, old.Value)).Then<ProcedureRun>(_ => Run);
            case SlipAnswer.Keep:
                return Happening(new RunEvent.SlipAnswered(answer, null), () => new EntryBody.Noted(old.Sequence, SessionReplay.Kept));
            default:
                return new Problem("there is no value to correct it to", "Read it again, or keep it");
        }
    }

    private Outcome<(Finding Finding, FitOptions Options)> Judged(CharacteristicKind kind, Need.Evaluate asked)
    {
        var used = InstrumentOf(ReadFor(asked.Step));
        var options = asked.Options with
        {
            Instrument = used,
            Hand = used == request.Instrument ? request.Hand : null,
            Tolerance = request.Tolerance ?? asked.Options.Tolerance ?? ClassLimits.For(asked.Kind, request.Machine.Class, journal.Limits, asked.Place),
        };
        return new JudgeReadings(journal.Present(request.Machine.Name).Ledger, request.Machine) { OfRun = number }.Run(kind, asked.Readings, options).Then<(Finding, FitOptions)>(judged => (judged.Finding, judged.Options));
    }

    // Who reads the finding sees which of its readings were kept by a decision.
    private Finding WithKept(Finding finding, Need.Evaluate asked)
    {
        var kept = Run.Readings.Where(reading => reading is { Stands: true, Excluded: null, KeptThoughQuestioned: true } && asked.Sequences.Contains(reading.Sequence))
            .Select(reading => string.Create(CultureInfo.InvariantCulture, $"{reading.CellIndex + 1} ({PlainText.Of(reading.Typed)})")).ToArray();
        return kept.Length == 0 ? finding : finding with
        {
            Remarks = finding.Remarks.Insert(0, $"Kept as typed though it was asked about: reading{(kept.Length == 1 ? "" : "s")} {string.Join(", ", kept)}."),
        };
    }
}
