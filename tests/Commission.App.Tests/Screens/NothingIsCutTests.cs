using System.Globalization;
using Commission.App.Rehearsal;
using Commission.Core;
using Commission.Core.Procedures;
using Commission.Practice.Bench;
using Commission.Tests;
using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Pages;

namespace Commission.App.Tests.Screens;

/// <summary>Every sheet of every shipped procedure fits its window: no sentence runs over the edge, in mm and in inches, large and small.</summary>
public sealed class NothingIsCutTests
{
    private const int MostAnswers = 2000;

    public static TheoryData<string, bool> Procedures
    {
        get
        {
            var data = new TheoryData<string, bool>();
            foreach (var procedure in PracticeStore.All())
            {
                data.Add(procedure.Id, false);
                data.Add(procedure.Id, true);
            }

            return data;
        }
    }

    [Theory]
    [MemberData(nameof(Procedures))]
    public void No_sheet_of_a_procedure_runs_over_the_edge_of_its_window(string id, bool inches)
    {
        var cut = new SortedSet<string>(StringComparer.Ordinal);
        foreach (var axis in ShippedProcedures.Read(id).ForOneAxis ? (AxisName?[])[AxisName.X, AxisName.Y, AxisName.Z] : [null])
            Walk(id, inches, axis, cut);
        Assert.True(cut.Count == 0, string.Join('\n', cut));
    }

    private static void Walk(string id, bool inches, AxisName? axis, SortedSet<string> cut)
    {
        var clock = KnownMachine.Clock();
        using var journal = KnownMachine.Journal(clock);
        if (inches)
            KnownMachine.InInches(journal);
        var desk = ScreenProgram.DeskOf(KnownMachine.Options(journal, id), clock);
        var procedure = desk.Means.Procedures.Single(one => one.Id == id);
        var machine = id is "reference-corner" ? KnownMachine.WithoutSwitches(desk.Machine!) : desk.Machine!;
        Look(new OverviewPage(desk, procedure, axis), cut);
        var session = desk.Means.Begin(procedure, axis, machine, []).Require();
        var person = new Person(desk, session);
        for (var answers = 0; session.Run.Needs is not Need.Ended && answers < MostAnswers; answers++)
        {
            var page = new RunPage(desk, session);
            Look(page, cut);
            for (var layout = 0; session.Run.Needs is Need.TakeReading && layout < 2; layout++)
            {
                page.Deed("large");
                Look(page, cut);
            }

            Assert.True(person.Answer(), $"{id}: no answer to {session.Run.Needs}");
        }

        Assert.IsType<Need.Ended>(session.Run.Needs);
        Look(new RunPage(desk, session), cut);
    }

    private static void Look(Page page, SortedSet<string> cut)
    {
        foreach (var (width, height) in new[] { (SheetFrame.LeastWidth, SheetFrame.LeastHeight), (120, 40), (200, 60) })
        {
            var sheet = page.Show(width, height);
            foreach (var line in sheet.Body.Where(line => line.Text.TrimEnd().Length > width))
                cut.Add($"{width} body: {line.Text}");
            foreach (var text in new[] { sheet.Next, sheet.Because }.Where(text => text.Length > width - "NEXT >> ".Length))
                cut.Add($"{width} step: {text}");
            if (sheet.Because.EndsWith("...", StringComparison.Ordinal))
                cut.Add($"{width} reason: {sheet.Because}");
            // What it is done with may give way.
            if (sheet.Path.Length + sheet.Right.Split(" . ")[0].Length + " PRACTICE    ".Length > width)
                cut.Add($"{width} head: {sheet.Path} | {sheet.Right}");
        }
    }

    /// <summary>Answers as the simulated operator does; now and then a reading is typed wrongly first, so that its question is seen too.</summary>
    private sealed class Person(Desk desk, IWorkSession session)
    {
        private const int SlipEvery = 5;

        private readonly SimulatedPerson _person = new(PracticeBench.Heron(KnownMachine.Seed), new Notebook());
        private int _read;

        public bool Answer()
        {
            var run = session.Run;
            return run.Needs switch
            {
                Need.HazardsFirst => Happens(new RunEvent.HazardsRead()),
                Need.TakeReading read => Reads(read),
                Need.SlipQuestion => Happens(new RunEvent.SlipAnswered(SlipAnswer.ReadAgain, null)),
                Need.Evaluate => session.Evaluate() is not Outcome<string?>.Bad,
                Need.Choose choose => Happens(new RunEvent.Chosen(_person.Choice(choose, run))),
                Need.Number => _person.Number(run) is Outcome<string>.Good { Value: var typed } && Happens(new RunEvent.NumberGiven(typed, double.Parse(typed, CultureInfo.InvariantCulture))),
                Need.Line => Happens(new RunEvent.TextGiven(SimulatedPerson.Line(run))),
                Need.Change => Happens(new RunEvent.ChangeLeft()),
                Need.CheckOut => Happens(new RunEvent.Left("put-aside", "out")),
                Need.Wait => Happens(new RunEvent.Waited()),
                _ => Happens(new RunEvent.Confirmed()),
            };
        }

        private bool Happens(RunEvent happened) => session.Happen(happened) is not Outcome<string?>.Bad;

        private bool Reads(Need.TakeReading read)
        {
            var shown = desk.Means.Look!(session, read);
            if (double.TryParse(shown, CultureInfo.InvariantCulture, out var value))
            {
                var slipped = !read.Again && ++_read % SlipEvery == 0 ? (10 * value) + 1 : value;
                shown = read.Unit == "mm" ? session.Run.AsTyped(slipped) : slipped.ToString("0.####", CultureInfo.InvariantCulture);
            }

            return session.Read(shown) is not Outcome<string?>.Bad;
        }
    }
}
