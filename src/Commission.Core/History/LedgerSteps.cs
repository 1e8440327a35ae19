using System.Collections.Immutable;
using Commission.Core.Machines;

namespace Commission.Core.History;

public sealed partial record Ledger
{
    /// <summary>The ledger after one more entry. Total: an entry that names what is not there changes nothing but the last sequence.</summary>
    public Ledger After(JournalEntry entry)
    {
        var next = entry.Body switch
        {
            EntryBody.StoreBorn body => this with { Born = Born ?? Enter(entry, body) },
            EntryBody.MachineDescribed body => WithMachine(Enter(entry, body)),
            EntryBody.InstrumentDescribed body => this with { Instruments = Instruments.SetItem(body.Description.Name, Enter(entry, body)), InstrumentVersions = InstrumentVersions.Add(Enter(entry, body)) },
            EntryBody.OperatorEntered body => this with { Operators = Operators.Add(body.Handle), LastOperator = body.Handle },
            EntryBody.StudyMade body => this with { Studies = Studies.Add(Enter(entry, body)) },
            EntryBody.RunStarted body => this with { Runs = Runs.SetItem(entry.Sequence, new RunRecord { Started = Enter(entry, body), LastSequence = entry.Sequence }) },
            EntryBody.Confirmed body => WithConfirmation(Enter(entry, body)),
            EntryBody.Checked body => WithCheck(Enter(entry, body)),
            EntryBody.Skipped body => WithSkip(Enter(entry, body)),
            EntryBody.ReadingTaken body => WithReading(Enter(entry, body)),
            EntryBody.Superseded body => WithStanding(body.Reading, new ReadingStanding.Superseded(entry.Sequence, body.By, body.Reason)),
            EntryBody.Excluded body => WithStanding(body.Reading, new ReadingStanding.Excluded(entry.Sequence, body.Reason)),
            EntryBody.Noted body => WithNote(Enter(entry, body)),
            EntryBody.FindingMade body => WithFinding(Enter(entry, body)),
            EntryBody.Withdrawn body => WithWithdrawal(Enter(entry, body)) with { Withdrawals = Withdrawals.SetItem(body.Finding, Enter(entry, body)) },
            EntryBody.ChangeTold body => this with { Changes = Changes.Add(new ChangeRecord(Enter(entry, body), null)) },
            EntryBody.SettingsSaved body => this with { SettingsSaved = SettingsSaved.Add(Enter(entry, body)) },
            EntryBody.SettingWritten body => WithRatio(body) with { SettingsWritten = SettingsWritten.Add(Enter(entry, body)) },
            EntryBody.Moved body => this with { Moves = Moves.Add(Enter(entry, body)) },
            EntryBody.Stopped body => this with { Stops = Stops.Add(Enter(entry, body)) },
            EntryBody.RunEnded body => WithEnd(Enter(entry, body)),
            _ => this with { UnknownEntries = UnknownEntries + 1 },
        };
        return next.Touched(entry) with { LastSequence = entry.Sequence, LastAt = entry.At };
    }

    private static Entered<TBody> Enter<TBody>(JournalEntry entry, TBody body)
        where TBody : EntryBody => new(entry.Sequence, entry.At, body);

    private Ledger WithMachine(Entered<EntryBody.MachineDescribed> described)
    {
        var name = described.Body.Description.Name;
        return this with
        {
            Machines = Machines.SetItem(name, Machines.TryGetValue(name, out var known)
                ? known with { Described = described, Ratios = known.Ratios.Clear() }
                : new MachineRecord(described, described.Sequence)),
        };
    }

    private Ledger WithRatio(EntryBody.SettingWritten written) =>
        !written.IsIntended() && Ratio(written, written.ReadBack ?? written.After) is var (machine, axis, ratio)
            ? this with { Machines = Machines.SetItem(machine.Described.Body.Description.Name, machine with { Ratios = machine.Ratios.SetItem(axis, ratio) }) }
            : this;

    // What was told does not hold: each ratio is what was written or told besides since the machine was described.
    private Ledger WithoutSetting(Entered<EntryBody.SettingWritten> told)
    {
        var without = this with { SettingsWritten = SettingsWritten.Remove(told) };
        if (told.Body.Machine is not { } name || !Machines.TryGetValue(name, out var machine))
            return without;
        var bare = without with { Machines = Machines.SetItem(name, machine with { Ratios = machine.Ratios.Clear() }) };
        return without.SettingsWritten.Where(written => written.Body.Machine == name && written.Sequence > machine.Described.Sequence)
            .Aggregate(bare, (ledger, written) => ledger.WithRatio(written.Body));
    }

    // The unit of a setting that was read from a controller stands with the settings that were saved.
    private (MachineRecord Machine, AxisName Axis, double Ratio)? Ratio(EntryBody.SettingWritten written, double value) =>
        written.Machine is { } name && Machines.TryGetValue(name, out var machine) && MachineWords.Axis(written.Axis) is { } axis
        && ControllerRatio.StepsPerMm(written.Name, value, SettingUnit.Of(this, written), machine.Description[axis]) is { } ratio ? (machine, axis, ratio) : null;

    /// <summary>A machine as it was when an entry was written, as far as its ratios go: what was written since is taken back.</summary>
    /// <param name="machine">The machine as it is known now.</param>
    /// <param name="sequence">Sequence of the entry.</param>
    public Machine AsOf(Machine machine, long sequence) => SettingsWritten
        .Where(written => written.Sequence > sequence && written.Body.Machine == machine.Name && written.Body is { Stage: not EntryBody.SettingWritten.Intended, Before: not null })
        .Select(written => Ratio(written.Body, written.Body.Before!.Value)).OfType<(MachineRecord Machine, AxisName Axis, double Ratio)>().Reverse()
        .Aggregate(machine, (now, before) => now.With(before.Axis, now[before.Axis] with { StepsPerMm = before.Ratio }));

    // A run that was put aside is open again as soon as anything else happens in it.
    private Ledger Touched(JournalEntry entry)
    {
        if (entry.Body.Run is not long number || !Runs.TryGetValue(number, out var run))
            return this;
        var reopened = run.Standing == RunStanding.PutAside && entry.Body is not EntryBody.RunEnded
            ? run with { Standing = RunStanding.Open, Ended = null }
            : run;
        return this with { Runs = Runs.SetItem(number, reopened with { LastSequence = entry.Sequence }) };
    }

    private Ledger InRun(EntryBody body, Func<RunRecord, RunRecord> change) =>
        body.Run is long number && Runs.TryGetValue(number, out var run)
            ? this with { Runs = Runs.SetItem(number, change(run)) }
            : this;

    private Ledger WithConfirmation(Entered<EntryBody.Confirmed> confirmed) =>
        InRun(confirmed.Body, run => run with { Confirmations = run.Confirmations.Add(confirmed) })
            .WithoutSkips(confirmed.Body, skip => skip.Made.Body.Check is null && skip.Made.Body.Step == confirmed.Body.Step);

    private Ledger WithCheck(Entered<EntryBody.Checked> made)
    {
        var noted = this with { Checks = Checks.Add(made) };
        var key = KeyOf(made.Body);
        return made.Body.Passed
            ? noted with { OpenSkips = OpenSkips.RemoveAll(skip => skip.Made.Body.Machine == made.Body.Machine && skip.Key == key) }
            : noted;
    }

    private Ledger WithSkip(Entered<EntryBody.Skipped> skipped)
    {
        var run = skipped.Body.Run is long number && Runs.TryGetValue(number, out var found) ? found.Started.Body : null;
        return this with { OpenSkips = OpenSkips.Add(new SkipRecord(skipped, run?.Procedure, run?.Axis)) };
    }

    // An answer of a run that was taken back stands no longer: its check is not passed, its skip is none, and its step asks again.
    private Ledger WithNote(Entered<EntryBody.Noted> noted)
    {
        var next = this with { Notes = Notes.Add(noted) };
        if (noted.Body is not { Text: EntryBody.Noted.TakenBack, About: long named, Run: long run })
            return next;
        var at = Checks.FindLastIndex(made => made.Sequence == named && made.Body.Run == run);
        return (next with
        {
            Checks = at < 0 ? Checks : Checks.SetItem(at, Checks[at] with { Body = Checks[at].Body.WithAnswerTakenBack() }),
            OpenSkips = OpenSkips.RemoveAll(skip => skip.Made.Sequence == named && skip.Made.Body.Run == run),
        }).InRun(noted.Body, open => open with { Confirmations = open.Confirmations.RemoveAll(said => said.Sequence == named) });
    }

    // A skipped step is made good where the same step of the same procedure is confirmed, in this run or a later one.
    private Ledger WithoutSkips(EntryBody body, Predicate<SkipRecord> sameStep)
    {
        if (OpenSkips.IsEmpty || body.Run is not long number || !Runs.TryGetValue(number, out var run))
            return this;
        var started = run.Started.Body;
        return this with
        {
            OpenSkips = OpenSkips.RemoveAll(skip => skip.Made.Body.Machine == body.Machine
                && skip.Procedure == started.Procedure && skip.Axis == started.Axis && sameStep(skip)),
        };
    }

    private Ledger WithReading(Entered<EntryBody.ReadingTaken> taken) =>
        (this with { Readings = Readings.SetItem(taken.Sequence, new ReadingRecord(taken, new ReadingStanding.Accepted())) })
            .InRun(taken.Body, run => run with { Readings = run.Readings.Add(taken.Sequence) });

    private Ledger WithStanding(long reading, ReadingStanding standing) => Readings.TryGetValue(reading, out var known)
        ? this with { Readings = Readings.SetItem(reading, known with { Standing = standing }) }
        : this;

    private Ledger WithFinding(Entered<EntryBody.FindingMade> made) =>
        (this with { Findings = Findings.SetItem(made.Sequence, new FindingRecord(made, null)) })
            .InRun(made.Body, run => run with { Findings = run.Findings.Add(made.Sequence) });

    private Ledger WithEnd(Entered<EntryBody.RunEnded> ended) => InRun(ended.Body, run => run with
    {
        Ended = ended,
        Standing = ended.Body.How switch
        {
            "completed" => RunStanding.Completed,
            "put-aside" => RunStanding.PutAside,
            _ => RunStanding.Aborted,
        },
    });

    // A withdrawal names a finding, or undoes an exclusion, a replacement, a change or a setting that was told.
    private Ledger WithWithdrawal(Entered<EntryBody.Withdrawn> withdrawn)
    {
        var named = withdrawn.Body.Finding;
        if (Findings.TryGetValue(named, out var finding))
            return this with { Findings = Findings.SetItem(named, finding with { Withdrawn = withdrawn }) };
        var change = Changes.FindIndex(known => known.Told.Sequence == named);
        if (change >= 0)
            return this with { Changes = Changes.SetItem(change, Changes[change] with { Withdrawn = withdrawn }) };
        if (Studies.FindIndex(known => known.Sequence == named) is >= 0 and var study)
            return this with { Studies = Studies.RemoveAt(study) };
        if (SettingsWritten.Find(known => known.Sequence == named && known.Body.IsTold()) is { } told)
            return WithoutSetting(told);
        var reading = Readings.Values.LastOrDefault(known => known.Standing switch
        {
            ReadingStanding.Superseded superseded => superseded.Entry == named,
            ReadingStanding.Excluded excluded => excluded.Entry == named,
            _ => false,
        });
        return reading is null ? this : WithStanding(reading.Sequence, new ReadingStanding.Accepted());
    }
}
