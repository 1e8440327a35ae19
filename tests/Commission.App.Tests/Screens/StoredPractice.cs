using Commission.Adapters.Storage;
using Commission.App.Rehearsal;
using Commission.Core;
using Commission.Core.Procedures;
using Commission.Practice.Bench;
using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Pages;
using Microsoft.Extensions.Time.Testing;

namespace Commission.App.Tests.Screens;

/// <summary>Practice stores with a past, for the program to be opened on.</summary>
internal static class StoredPractice
{
    private const int Months = 12;

    // About 700 ppm: more than a caliper can miss, and not more than such screws may have.
    private const double SetAfterOneReading = 320.22;

    /// <summary>A store in a folder, filled on a clock of its own.</summary>
    public static void Make(string folder, Action<IJournal, FakeTimeProvider> fill)
    {
        var clock = KnownMachine.Clock();
        using var journal = new Stores("test", clock).Open(folder, StoreNature.Practice, write: true).Require();
        fill(journal, clock);
    }

    /// <summary>The scale of a Y with a screw without papers, whose steps somebody has set after one reading: the finding says change.</summary>
    public static void ScaleToChange(IJournal journal, FakeTimeProvider clock)
    {
        KnownMachine.Fill(journal, clock, KnownMachine.Seed);
        var machine = Ledger.From(journal.Entries()).Machines["Heron"].Description;
        journal.Append(new EntryBody.MachineDescribed(machine with { Y = machine.Y with { Grade = null } }, Retired: false) { Machine = "Heron" }).Require();
        var bench = PracticeBench.Heron(KnownMachine.Seed);
        bench.Set(bench.Machine.Settings.WithSteps(AxisName.Y, SetAfterOneReading));
        new PracticeRecord(journal, KnownMachine.Seed).Keep(bench);
        Run(journal, clock, AxisName.Y);
    }

    /// <summary>The scale of X looked at once a month for a year.</summary>
    public static void YearOfRechecks(IJournal journal, FakeTimeProvider clock)
    {
        KnownMachine.Fill(journal, clock, KnownMachine.Seed);
        for (var month = 0; month < Months; month++)
        {
            Run(journal, clock, AxisName.X);
            clock.Advance(TimeSpan.FromDays(30));
        }
    }

    /// <summary>The scale of X looked at once.</summary>
    public static void Scale(IJournal journal, FakeTimeProvider clock) => Carried(ScreenProgram.DeskOf(KnownMachine.Options(journal), clock), AxisName.X);

    /// <summary>A run on the practice bench without keys: every instruction followed, every slip read again, every change left.</summary>
    /// <param name="desk">The desk it is begun on.</param>
    /// <param name="axis">The axis of the scale.</param>
    public static IWorkSession Carried(Desk desk, AxisName axis)
    {
        var session = desk.Means.Begin(desk.Means.Procedures.Single(procedure => procedure.Id == "axis-scale"), axis, desk.Machine!, []).Require();
        session.Happen(new RunEvent.HazardsRead());
        while (session.Run.Needs is not Need.Ended)
        {
            switch (session.Run.Needs)
            {
                case Need.TakeReading read: session.Read(desk.Means.Look!(session, read)); break;
                case Need.SlipQuestion: session.Happen(new RunEvent.SlipAnswered(SlipAnswer.ReadAgain, null)); break;
                case Need.Evaluate: session.Evaluate(); break;
                case Need.Change: session.Happen(new RunEvent.ChangeLeft()); break;
                default: session.Happen(new RunEvent.Confirmed()); break;
            }
        }

        return session;
    }

    private static void Run(IJournal journal, FakeTimeProvider clock, AxisName axis) => Carried(ScreenProgram.DeskOf(KnownMachine.Options(journal), clock), axis);
}
