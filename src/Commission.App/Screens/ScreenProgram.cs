using System.Collections.Immutable;
using Commission.App.CommandLine;
using Commission.App.Rehearsal;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Instruments;
using Commission.Core.Machines;
using Commission.Core.Plans;
using Commission.Core.Procedures;
using Commission.Practice.Bench;
using Commission.Workshop.Ports;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Pages;
using Commission.Workshop.Sessions;

namespace Commission.App.Screens;

/// <summary>The screens: the bench of the store's machine, or practice.</summary>
public static class ScreenProgram
{
    /// <summary>Opens the screens and returns when they were left.</summary>
    /// <param name="plain">Only ASCII and no colour, whatever the terminal can.</param>
    /// <param name="options">What they are opened with; asked for once the terminal is taken.</param>
    /// <returns>The exit code, or why the screens cannot be shown, with the plain way named.</returns>
    public static Outcome<int> Run(bool plain, Func<ScreenOptions> options)
    {
        if (TerminalCheck.Refusal(TerminalCheck.Here()) is { } refusal)
            return refusal;
        var depth = plain ? ColourDepth.None : Looks.Depth(Environment.GetEnvironmentVariable);
        var looks = Looks.Started(depth, plain, Environment.GetEnvironmentVariable);
        PracticeDoor? door = null;
        return ScreenWindow.Show(
            () => door = new PracticeDoor(options() with { FineGlyphs = !looks.Ascii, Elsewhere = IsElsewhere(Environment.GetEnvironmentVariable) }, TimeProvider.System),
            looks,
            new StopWay(() => door?.Now.Link?.Moving, why => door?.Now.Link?.StopNow(why), why => door?.Now.Link?.StopBeforeEnd(why)));
    }

    /// <summary>Whether the terminal was reached over a secure shell: what is typed comes from elsewhere.</summary>
    /// <param name="read">Reads an environment variable.</param>
    public static bool IsElsewhere(Func<string, string?> read) => new[] { "SSH_CONNECTION", "SSH_TTY" }.Any(name => !string.IsNullOrEmpty(read(name)));

    /// <summary>The desk of the screens.</summary>
    public static Desk DeskOf(ScreenOptions given, TimeProvider clock)
    {
        // Sessions and desk read the same entries: from the medium once, then as they are written.
        var options = given with { Journal = new FollowedJournal(given.Journal) };
        var practice = options.Journal.Nature == StoreNature.Practice ? PracticeRecord.Bench(options.Journal.Present(null).Ledger, options.Seed) : null;
        if (practice is not null)
            Furnish(options.Journal, options.Seed, practice);
        Desk? desk = null;
        // A run that was left open is looked into before the desk stands.
        string? who() => desk is null ? options.Operator ?? options.Journal.Present(null).Ledger.LastOperator : desk.Operator;
        IPositionWatch? watch() => desk?.Link is { IsOpen: true, Watch: var open } ? open : null;
        desk = new Desk(new DeskMeans
        {
            Journal = options.Journal, Procedures = [.. options.Procedures], Clock = clock, Machine = options.Machine, Operator = options.Operator, Units = options.Units, Elsewhere = options.Elsewhere, FineGlyphs = options.FineGlyphs, Link = practice is null ? options.Link : PracticePort.Means(practice, options.LinkClock ?? clock, options.PracticeScale),
            Begin = (procedure, axis, machine, plan) => Open(options with { Operator = who() }, procedure, axis, machine, resume: false, watch(), desk?.Preferred, plan),
            TakeUp = run => options.Procedures.FirstOrDefault(procedure => procedure.Id == run.Started.Body.Procedure) is { } procedure
                && options.Journal.Present(run.Started.Body.Machine).Ledger.Machines.TryGetValue(run.Started.Body.Machine ?? "", out var machine)
                    ? Open(options with { Operator = who() }, procedure, MachineWords.Axis(run.Started.Body.Axis), machine.Description, resume: true, watch(), run.Started.Body.Instrument, [])
                    : new Problem($"the procedure {run.Started.Body.Procedure} is not at hand", "Put the run aside, or bring its file back"),
            Look = practice is null ? null : new PracticeLook(practice).Shows,
            StartPractice = options.StartPractice, EndPractice = options.EndPractice, Folder = given.Journal as IStoreFolder, Files = options.Files, KnownPorts = options.KnownPorts, Program = ProgramVersion.Number, Shipped = options.Shipped,
        });
        if (options.Start is { } start)
            desk.ShowFirst(start.Procedure, start.Axis, start.Instrument, start.Anew);
        return desk;
    }

    private static Outcome<IWorkSession> Open(ScreenOptions options, Procedure procedure, AxisName? axis, Machine machine, bool resume, IPositionWatch? watch, string? preferred, ImmutableArray<PlanCell> plan)
    {
        var ledger = options.Journal.Present(null).Ledger;
        var kit = ledger.Kit.ToList();
        var instrument = KitChoice.For(procedure, kit, preferred, resume ? null : machine);
        var hand = ledger.Hand(options.Operator, instrument?.Name)?.Body.Study;
        return ProcedureSession.Open(options.Journal, new SessionRequest
        {
            Procedure = procedure, ProcedureHash = options.Hash(procedure), Machine = machine, Shown = options.Units, Axis = axis, Instrument = instrument, Hand = hand,
            Instruments = [.. kit],
            Owned = [.. kit.Select(known => known.Kind)], Operator = options.Operator, Seed = options.Journal.Nature == StoreNature.Practice ? (long)(options.Seed % long.MaxValue) : 0, Resume = resume, Watch = watch, Plan = plan,
            Tolerance = options.Start is { } start && start.Procedure.Id == procedure.Id ? start.Tolerance : null,
        }).Then<IWorkSession>(session => new WorkSession(session, options.Journal));
    }

    /// <summary>Describes the practice machine and its owner's kit once, as anybody would describe theirs.</summary>
    internal static void Furnish(IJournal journal, ulong seed, PracticeBench practice)
    {
        new PracticeRecord(journal, seed).Keep(practice);
        var ledger = journal.Present(null).Ledger;
        var machine = practice.Machine.Description;
        if (!ledger.Machines.ContainsKey(machine.Name))
            journal.Append(new EntryBody.MachineDescribed(machine, Retired: false) { Machine = machine.Name });
        foreach (var (instrument, kind) in new[]
        {
            (practice.Caliper, InstrumentKind.CaliperDigital), (practice.Indicator, InstrumentKind.Indicator), (practice.Tape, InstrumentKind.Tape),
        })
        {
            if (!ledger.Instruments.ContainsKey(instrument.Name))
                journal.Append(new EntryBody.InstrumentDescribed(new Instrument(instrument.Name, kind, instrument.LimitMm, instrument.ResolutionMm, instrument.RangeMm, "practice"), Retired: false));
        }
    }
}
