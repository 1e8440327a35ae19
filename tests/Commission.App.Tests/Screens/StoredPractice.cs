using Commission.Adapters.Storage;
using Commission.App.Rehearsal;
using Commission.App.Screens;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Practice.Bench;
using Commission.Workshop.Ports;
using Microsoft.Extensions.Time.Testing;

namespace Commission.App.Tests.Screens;

/// <summary>Practice stores with a past, for the program to be opened on.</summary>
internal static class StoredPractice
{
    private const int Months = 12;

    // 2500 ppm off: too small for a wrong lead, and more than a caliper can miss.
    private const double SetAfterOneReading = 320.8;

    /// <summary>A store in a folder, filled on a clock of its own.</summary>
    public static void Make(string folder, Action<IJournal, FakeTimeProvider> fill)
    {
        var clock = KnownMachine.Clock();
        using var journal = new Stores("test", clock).Open(folder, StoreNature.Practice, write: true).Require();
        fill(journal, clock);
    }

    /// <summary>Everything up to the scale is done and the readiness list stands as passed, so that moves over the link may be asked for. Y has a screw without papers, and somebody has set its steps after one reading.</summary>
    public static void Ready(IJournal journal, FakeTimeProvider clock)
    {
        KnownMachine.Fill(journal, clock, KnownMachine.Seed);
        var machine = Ledger.From(journal.Entries()).Machines["Heron"].Description;
        journal.Append(new EntryBody.MachineDescribed(machine with { Y = machine.Y with { Grade = null } }, Retired: false) { Machine = "Heron" }).Require();
        var bench = PracticeBench.Heron(KnownMachine.Seed);
        bench.Set(bench.Machine.Settings.WithSteps(AxisName.Y, SetAfterOneReading));
        new PracticeRecord(journal, KnownMachine.Seed).Keep(bench);
        foreach (var (check, step) in new[] { ("P05", "p05"), ("P06", "p06"), ("P07", "p07"), ("P08", "p08"), ("P22", "p22"), ("P27", "p27"), ("P30", "p30"), ("P25", "p25-x"), ("P25", "p25-y"), ("P25", "p25-z") })
            journal.Append(new EntryBody.Checked { Machine = "Heron", Operator = "M", Step = step, Check = check, Typed = "yes", Limit = "yes", Passed = true }).Require();
    }

    /// <summary>The scale of X looked at once a month for a year.</summary>
    public static void YearOfRechecks(IJournal journal, FakeTimeProvider clock)
    {
        KnownMachine.Fill(journal, clock, KnownMachine.Seed);
        for (var month = 0; month < Months; month++)
        {
            var desk = ScreenProgram.DeskOf(KnownMachine.Options(journal), clock);
            var session = desk.Means.Begin(desk.Means.Procedures.Single(), AxisName.X, desk.Machine!).Require();
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

            clock.Advance(TimeSpan.FromDays(30));
        }
    }
}
