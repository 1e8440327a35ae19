using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Practice.Bench;
using Microsoft.Extensions.Time.Testing;

namespace Commission.App.Tests.Screens;

/// <summary>A practice machine whose work is done up to the scale of its axes, seven days ago, on a clock that stands still.</summary>
internal static class KnownMachine
{
    public const ulong Seed = 1;

    private static readonly string[] ForAxes = ["nominal-steps", "ratio-check", "speed-ladder", "backlash", "stiffness", "periodic-error"];

    public static FakeTimeProvider Clock() => new(new DateTimeOffset(2026, 4, 11, 9, 0, 0, TimeSpan.Zero));

    /// <summary>A journal in which everything that the scale rests on is fresh.</summary>
    public static MemoryJournal Journal(FakeTimeProvider clock)
    {
        var journal = PracticeStore.Journal(clock);
        Fill(journal, clock, Seed);
        return journal;
    }

    /// <summary>Fills a journal with it.</summary>
    public static void Fill(IJournal journal, FakeTimeProvider clock, ulong seed)
    {
        // Opening the desk once describes the machine and its kit, as practice does.
        _ = ScreenProgram.DeskOf(PracticeStore.Options(journal, seed), clock);
        foreach (var procedure in (string[])["first-power-up", "switch-logic", "homing", "frame-twist", "rails"])
            Done(journal, procedure, null);
        foreach (var procedure in ForAxes)
        {
            foreach (var axis in (string[])["X", "Y", "Z"])
                Done(journal, procedure, axis);
        }

        var caliper = Ledger.From(journal.Entries()).Instruments.Values.First(entry => entry.Body.Description.Kind == InstrumentKind.CaliperDigital).Body.Description.Name;
        journal.Append(new EntryBody.StudyMade(new HandStudy("M", caliper, 0.016, 14)) { Operator = "M" });
        clock.Advance(new TimeSpan(7, 1, 2, 0));
    }

    public static ScreenOptions Options(IJournal journal, params string[] procedures) =>
        PracticeStore.Options(journal, Seed) with { Procedures = PracticeStore.Shipped(procedures.Length == 0 ? ["axis-scale"] : procedures) };

    /// <summary>The same with a practice link that lives in real time.</summary>
    /// <param name="journal">What is known of the machine.</param>
    /// <param name="scale">How often as fast as the clock the machine runs.</param>
    public static ScreenOptions Linked(IJournal journal, double scale = 40) => Options(journal) with { LinkClock = new PatientTime(), PracticeScale = scale };

    /// <summary>The screens on it.</summary>
    public static Headless Window(IJournal journal, FakeTimeProvider clock, int width = 80, int height = 24) =>
        new(ScreenProgram.DeskOf(Options(journal), clock), width, height);

    /// <summary>From here on its owner works in inches.</summary>
    public static void InInches(IJournal journal)
    {
        var machine = Ledger.From(journal.Entries()).Machines["Heron"].Description;
        journal.Append(new EntryBody.MachineDescribed(machine with { Units = LengthUnit.Inch }, Retired: false) { Machine = "Heron" }).Require();
    }

    /// <summary>Every check that the link asks for before anything moves.</summary>
    public static string[] ReadyChecks => ["P05", "P06", "P07", "P08", "P22", "P27", "P30", "P25-x", "P25-y", "P25-z"];

    /// <summary>Enters checks as passed; those of one axis end with it, as <c>P25-x</c>.</summary>
    public static void Pass(IJournal journal, params IEnumerable<string> checks)
    {
        foreach (var check in checks)
        {
            journal.Append(new EntryBody.Checked
            {
                Machine = "Heron", Operator = "M", Step = check.ToLowerInvariant(), Check = check.Split('-')[0], Typed = "yes", Limit = "yes", Passed = true,
            }).Require();
        }
    }

    /// <summary>Takes the switches off a machine: each axis is put by hand on its place, Z at the high end and the others at the low one.</summary>
    public static Machine WithoutSwitches(Machine machine)
    {
        static AxisDescription Without(AxisDescription axis, HomeEnd corner) => axis with { Switches = Switches.None, HomeAt = corner };
        return machine with { X = Without(machine.X, HomeEnd.Low), Y = Without(machine.Y, HomeEnd.Low), Z = Without(machine.Z, HomeEnd.High) };
    }

    /// <summary>How far the scale that was found lies from the seeded truth, and how far it may.</summary>
    /// <param name="finding">The finding of the scale of an axis.</param>
    /// <param name="commandedMm">The positions that were read.</param>
    /// <param name="axis">The axis.</param>
    /// <param name="seed">Seed of the practice machine.</param>
    public static (double Error, double U) AgainstTruth(Finding finding, IReadOnlyList<double> commandedMm, AxisName axis, ulong seed = Seed)
    {
        var truth = PracticeBench.Heron(seed).Machine.ScaleErrorBetween(axis, commandedMm.Min(), commandedMm.Max());
        return (finding.Headline.Value!.Value - truth, finding.Headline.ExpandedUncertainty!.Value);
    }

    /// <summary>The one finding of a journal whose every reading is one of the scale of an axis: the truth lies inside U.</summary>
    public static EntryBody.FindingMade FoundInsideU(Ledger ledger, AxisName axis)
    {
        var made = ledger.Findings.Values.Single().Made.Body;
        var (error, u) = AgainstTruth(made.Finding, [.. ledger.Readings.Values.Select(reading => reading.Taken.Body.Given["commanded_mm"])], axis);
        Assert.InRange(error, -u, u);
        return made;
    }

    private static void Done(IJournal journal, string procedure, string? axis)
    {
        var begun = journal.Append(new EntryBody.RunStarted { Machine = "Heron", Procedure = procedure, ProcedureHash = procedure, Axis = axis, Operator = "M" }).Require();
        journal.Append(new EntryBody.RunEnded("completed", null) { Machine = "Heron", Run = begun.Sequence });
    }
}
