using System.Collections.Immutable;
using System.Globalization;
using Commission.App.Plain;
using Commission.App.Rehearsal;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Procedures;
using Commission.Core.Reports;
using Commission.Core.Upkeep;
using Commission.Practice.Bench;
using Commission.Practice.Instruments;
using Commission.Proof.Walks;
using Commission.Tests;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Pages;
using Commission.Workshop.Sessions;
using Microsoft.Extensions.Time.Testing;

namespace Commission.App.Tests.Plain;

/// <summary>
/// Every procedure that asks for a change, walked on a machine that needs it, up to that step and over it: question by question and on the
/// screens, done and not done. What was done is entered, and makes stale what it cured.
/// </summary>
public sealed class ChangesOnBothFrontsTests
{
    private const ulong Seed = 5;

    /// <summary>Procedure, word of the change, item that it makes stale.</summary>
    public static TheoryData<string, string, string> ByHand { get; } = new()
    {
        { "diagonals", "gantry-loosened", "squareness" }, { "distance-network", "gantry-loosened", "squareness" }, { "plate", "gantry-loosened", "squareness" },
        { "square-reversal", "gantry-loosened", "squareness" }, { "tram", "spindle-remounted", "tram" }, { "z-square", "z-plate-moved", "z-square" },
    };

    /// <summary>Procedure, name of the setting, what is typed, item that it makes stale.</summary>
    public static TheoryData<string, string, string, string> Told { get; } = new()
    {
        { "axis-scale", "stepsPerMm", "319.8", "axis-scale" }, { "backlash", "compensationMm", "0.12", "backlash" }, { "home-offset", "homeOffset", "-0.85", "squareness" },
    };

    [Fact]
    public void No_procedure_with_a_change_is_missing_here() => Assert.Equal(
        OrderOfWork.Ids.Concat(["plate", "home-offset"]).Distinct().Where(id => ShippedProcedures.Read(id).AllSteps.Any(step => step is Step.Change)).Order(StringComparer.Ordinal),
        ByHand.Select(row => row.Data.Item1).Concat(Told.Select(row => row.Data.Item1)).Order(StringComparer.Ordinal));

    // Found in review: yes and S were answered by "asks for something else", without end.
    [Theory]
    [MemberData(nameof(ByHand))]
    public async Task Question_by_question_a_change_by_hand_is_done_with_yes_and_entered(string id, string word, string item)
    {
        using var journal = Journal();
        var (session, said) = await AskedAsync(journal, id, "yes");
        Assert.Single(said, line => line.StartsWith("ask confirm ", StringComparison.Ordinal) && line.Contains(" Done? yes or S: it is done. no or O: it is not done", StringComparison.Ordinal));
        Assert.Contains(said, line => line.StartsWith($"In the log: {ChangeWord.TitleOf(word)}. To be measured again: ", StringComparison.Ordinal));
        AssertEntered(journal, session, word, item);
    }

    [Theory]
    [MemberData(nameof(ByHand))]
    public void On_the_screens_a_change_by_hand_says_what_to_do_is_done_with_S_and_entered(string id, string word, string item)
    {
        using var journal = Journal();
        var session = AtChange(journal, id);
        var (page, text) = Sheet(journal, session, session.Needs.Step);
        Assert.Contains("S done", text, StringComparison.Ordinal);
        Assert.Contains("O not done", text, StringComparison.Ordinal);
        Assert.DoesNotContain("the value the controller holds", text, StringComparison.Ordinal);
        page.FollowNext();
        Assert.IsType<Need.Change>(session.Needs);
        page.Deed("change-done");
        AssertEntered(journal, session, word, item);
    }

    [Theory]
    [MemberData(nameof(ByHand))]
    public async Task A_change_by_hand_that_is_not_done_enters_nothing_and_the_run_goes_on(string id, string word, string item)
    {
        using var typed = Journal();
        var (plain, _) = await AskedAsync(typed, id, "o");
        using var pressed = Journal();
        var session = AtChange(pressed, id);
        Sheet(pressed, session, session.Needs.Step).Page.Deed("leave-change");
        foreach (var (journal, run) in new[] { (typed, plain), (pressed, session) })
        {
            Assert.IsNotType<Need.Change>(run.Needs);
            Assert.DoesNotContain(journal.Entries(), entry => entry.Body is EntryBody.ChangeTold told && told.Change == word);
            Assert.Contains(journal.Entries(), entry => entry.Body is EntryBody.Confirmed { Answer: "left as it is" });
            Assert.NotEqual(Standing.Stale, Standings(journal).First(state => state.Key.Item == item).Standing);
        }
    }

    [Theory]
    [MemberData(nameof(Told))]
    public async Task A_setting_is_told_question_by_question_and_on_the_screens_and_is_the_same_entry(string id, string name, string value, string item)
    {
        using var typed = Journal();
        var (plain, _) = await AskedAsync(typed, id, value);
        using var pressed = Journal();
        var session = AtChange(pressed, id);
        var (page, text) = Sheet(pressed, session, null);
        Assert.Contains("O ", text, StringComparison.Ordinal);
        foreach (var key in value)
            page.Type(key);
        page.Accept();
        foreach (var (journal, run) in new[] { (typed, plain), (pressed, session) })
        {
            Assert.IsNotType<Need.Change>(run.Needs);
            var written = Assert.Single(journal.Entries().Select(entry => entry.Body).OfType<EntryBody.SettingWritten>());
            Assert.Equal((name, double.Parse(value, CultureInfo.InvariantCulture), "told"), (written.Name, written.After, written.Stage));
            Assert.Contains(Standings(journal), state => state.Key.Item == item && (state.Key.Axis ?? written.Axis) == written.Axis && state.Reasons.Any(reason => reason.Standing == Standing.Stale) == (id != "home-offset"));
        }
    }

    // The offset of the second motor stands on the card for the wall, and what was found before it is to be found again.
    [Fact]
    public async Task A_home_offset_stands_on_the_card_with_its_sign_and_makes_squareness_stale()
    {
        using var journal = Journal();
        journal.Append(Finding("squareness")).Require();
        await AskedAsync(journal, "home-offset", "-0.85");
        Assert.Contains("home offset Y: -0.85 mm", Report(journal, card: true), StringComparison.Ordinal);
        var state = Standings(journal).Single(one => one.Key.Item == "squareness");
        Assert.Equal((Standing.Stale, "Home offset of the second motor changed: verify squareness after homing"), (state.Standing, state.Reasons[0].Because));
        Assert.Contains("stale: Home offset of the second motor changed", Report(journal, card: false), StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_offset_that_was_left_is_not_on_the_card()
    {
        using var journal = Journal();
        await AskedAsync(journal, "home-offset", "");
        Assert.Contains("home offset of the second motor: none entered", Report(journal, card: true), StringComparison.Ordinal);
    }

    // Where the program ended between the entry and the answer, the change is not entered twice.
    [Fact]
    public void A_change_is_entered_once_also_where_its_answer_was_cut_off()
    {
        using var journal = Journal();
        var session = AtChange(journal, "tram");
        session.TellChange(null).Require();
        var told = journal.Entries().Single(entry => entry.Body is EntryBody.ChangeTold);
        using var cut = Journal();
        foreach (var entry in journal.Entries().SkipWhile(entry => entry.Body is EntryBody.MachineDescribed or EntryBody.StoreBorn).Where(entry => entry.Sequence <= told.Sequence))
            cut.Append(entry.Body).Require();
        var again = ProcedureSession.Open(cut, Request("tram", Bench("tram"), resume: true)).Require();
        Assert.IsType<Need.Change>(again.Needs);
        again.TellChange(null).Require();
        Assert.Single(cut.Entries(), entry => entry.Body is EntryBody.ChangeTold);
        Assert.Equal("completed", again.Run.How);
    }

    [Fact]
    public void A_walk_enters_what_it_does_and_says_what_to_measure_again()
    {
        var bench = Bench("tram");
        var scene = WalkScene.Walked(bench, Seed, ["tram"]);
        Assert.Contains("shim: done as advised", scene.Printed, StringComparison.Ordinal);
        Assert.Contains("In the log: Spindle taken out and mounted again. To be measured again: tram of the spindle", scene.Printed, StringComparison.Ordinal);
    }

    private static void AssertEntered(MemoryJournal journal, ProcedureSession session, string word, string item)
    {
        Assert.IsNotType<Need.Change>(session.Needs);
        var told = Assert.Single(journal.Entries(), entry => entry.Body is EntryBody.ChangeTold);
        Assert.Equal(word, ((EntryBody.ChangeTold)told.Body).Change);
        var state = Standings(journal).First(one => one.Key.Item == item);
        Assert.Equal(Standing.Stale, state.Standing);
        Assert.Equal(told.Sequence, state.Reasons[0].Entry);
        var report = Report(journal, card: false);
        Assert.Contains($"| {word} |", report, StringComparison.Ordinal);
        Assert.Contains("stale: " + ChangeWord.TitleOf(word), report, StringComparison.Ordinal);
    }

    private static ImmutableArray<ResultState> Standings(MemoryJournal journal) => new WhatIsNext(journal).Run("Heron", new FakeTimeProvider().Start.AddDays(1)).Require().States;

    private static string Report(MemoryJournal journal, bool card) => MarkdownReport.Write(new WriteReport(journal, "test").Run(new ReportRequest { Machine = "Heron", Card = card }).Require());

    private static EntryBody.FindingMade Finding(string kind) => new()
    {
        Machine = "Heron", Characteristic = kind, Readings = [], Options = new(),
        Finding = new()
        {
            Kind = kind, Method = "example/1", Rows = 1, Used = 1, Verdict = Verdict.Outside, Advice = new() { Action = AdviceAction.Change, Because = "it is an example" },
            Parameters = [new() { Name = kind, Unit = "rad", Value = 1e-3, StandardUncertainty = 1e-4, ExpandedUncertainty = 2e-4, CoverageFactor = 2 }], Covariance = [],
        },
    };

    private static MemoryJournal Journal()
    {
        var journal = new MemoryJournal(StoreNature.Practice, "abc123", "test", new FakeTimeProvider());
        journal.Append(new EntryBody.MachineDescribed(Bench("tram").Machine.Description, Retired: false) { Machine = "Heron" }).Require();
        return journal;
    }

    // Far beyond every limit and every U, so that the advice is to change.
    private static PracticeBench Bench(string id)
    {
        var bench = PracticeBench.Heron(Seed);
        bench.Rework(state => state with
        {
            Frame = state.Frame with { SquarenessXY = 6e-3, SquarenessXZ = 6e-3, SquarenessYZ = 6e-3 },
            Spindle = state.Spindle with { TiltX = 4e-3, TiltY = 4e-3 },
            Y = state.Y with { ClearanceMm = id == "backlash" ? 0.25 : state.Y.ClearanceMm },
        });
        if (id == "axis-scale")
            bench.Set(bench.Machine.Settings.WithSteps(AxisName.Y, 320.22));
        return bench;
    }

    private static SessionRequest Request(string id, PracticeBench bench, bool resume = false)
    {
        var procedure = ShippedProcedures.Read(id);
        var described = bench.Machine.Description;
        Instrument[] kit =
        [
            Described(bench.Caliper, InstrumentKind.CaliperDigital), Described(bench.Indicator, InstrumentKind.Indicator), Described(bench.Tape, InstrumentKind.Tape),
        ];
        return new SessionRequest
        {
            Procedure = procedure, ProcedureHash = "h1", Axis = procedure.ForOneAxis ? AxisName.Y : null, Seed = (long)Seed, Operator = "M", Resume = resume,
            Machine = described with { Y = described.Y with { Grade = null, StepsPerMm = bench.Machine.Settings.StepsPerMm[1] } },
            Instrument = procedure.Instruments.SelectMany(need => need.Kinds).Select(kind => kit.FirstOrDefault(one => one.Kind == kind)).FirstOrDefault(one => one is not null),
            Instruments = [.. kit], Owned = [.. kit.Select(one => one.Kind), InstrumentKind.Square],
        };
    }

    // Found in use: the card said "Move nothing", and the simulated operator turned the gantry by what lay within the uncertainty.
    [Theory]
    [InlineData(1e-4, false)]
    [InlineData(6e-3, true)]
    public void The_simulated_operator_moves_nothing_where_the_card_says_so(double squareness, bool moved)
    {
        using var journal = Journal();
        var bench = Bench("home-offset");
        var (session, person) = AtChange(journal, "home-offset", bench, squareness);
        var before = bench.Machine.Settings.GantryOffsetMm;
        var done = person.Apply((Need.Change)session.Needs, session.Run, null).Done;
        Assert.Equal((moved, moved), (done, !bench.Machine.Settings.GantryOffsetMm.Equals(before)));
    }

    private static Instrument Described(PracticeInstrument instrument, InstrumentKind kind) => new(instrument.Name, kind, instrument.LimitMm, instrument.ResolutionMm, instrument.RangeMm, "practice, invented");

    // The simulated operator answers everything up to the change.
    private static ProcedureSession AtChange(MemoryJournal journal, string id) => AtChange(journal, id, Bench(id), 6e-3).Session;

    private static (ProcedureSession Session, SimulatedPerson Person) AtChange(MemoryJournal journal, string id, PracticeBench bench, double squareness)
    {
        var session = ProcedureSession.Open(journal, Request(id, bench)).Require();
        var notebook = new Notebook();
        notebook.Write("squareness", "squareness", squareness, 2e-4);
        var person = new SimulatedPerson(bench, notebook);
        foreach (var test in BenchTests.Of(session.Run.Procedure))
            bench.Begin(test);
        for (var answers = 0; session.Needs is not (Need.Change or Need.Ended) && answers < 1000; answers++)
        {
            switch (session.Needs)
            {
                case Need.HazardsFirst: session.HazardsRead().Require(); break;
                case Need.TakeReading read: var typed = person.Reading(read, session.Run).Require(); session.Read(typed, double.Parse(typed, CultureInfo.InvariantCulture)).Require(); break;
                case Need.SlipQuestion: session.AnswerSlip(SlipAnswer.Keep).Require(); break;
                case Need.Evaluate: session.Evaluate().Require(); break;
                case Need.Choose choose: session.Choose(person.Choice(choose, session.Run)).Require(); break;
                case Need.Number: var number = person.Number(session.Run).Require(); session.Number(number, double.Parse(number, CultureInfo.InvariantCulture)).Require(); break;
                case Need.Line: session.Text(SimulatedPerson.Line(session.Run)).Require(); break;
                default: session.Confirm().Require(); break;
            }
        }

        Assert.IsType<Need.Change>(session.Needs);
        return (session, person);
    }

    // The input ends with the answer: what stands behind the step may ask for more.
    private static async Task<(ProcedureSession Session, string[] Said)> AskedAsync(MemoryJournal journal, string id, string answer)
    {
        var session = AtChange(journal, id);
        using var output = new StringWriter();
        using var input = new StringReader(answer + "\n");
        await new PlainFront(input, output, TextWriter.Null).RunAsync(session, TestContext.Current.CancellationToken);
        return (session, output.ToString().ReplaceLineEndings("\n").Split('\n'));
    }

    // The first words of the step's own text stand on the sheet.
    private static (RunPage Page, string Text) Sheet(MemoryJournal journal, ProcedureSession session, string? step)
    {
        var desk = new Desk(new DeskMeans { Journal = journal, Procedures = [session.Run.Procedure], Clock = new FakeTimeProvider(), Begin = (_, _, _, _) => new Problem("none", "None") });
        var page = new RunPage(desk, new WorkSession(session, journal));
        var text = SheetFrame.Text(page.Show(80, 24));
        if (step is not null)
            Assert.Contains(string.Join(' ', ((Need.Change)session.Needs).Text.Split(' ').Take(6)), text, StringComparison.Ordinal);
        return (page, text);
    }
}
