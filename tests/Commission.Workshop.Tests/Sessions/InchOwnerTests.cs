using System.Text.RegularExpressions;
using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Tests;
using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Sheets;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Tests.Sessions;

/// <summary>An owner who works in inches, through whole procedures: nothing that is said or typed is in millimetres, and everything kept is.</summary>
public sealed partial class InchOwnerTests
{
    private static readonly Machine Heron = SessionScene.Heron with { Units = LengthUnit.Inch };

    public static TheoryData<string> Ids => ["ratio-check", "axis-scale", "backlash", "diagonals", "tram", "bed-map", "runout", "homing", "speed-ladder", "test-cut", "z-axis", "insert-grid", "home-offset"];

    [Theory]
    [MemberData(nameof(Ids))]
    public void A_whole_run_says_and_asks_no_millimetre_where_an_inch_is_due(string id)
    {
        using var journal = SessionScene.Journal();
        var said = Walked(Session(journal, id, Heron, null));
        Assert.DoesNotMatch(Millimetres(), said);
        Assert.Matches(@"inches|\d in\b", said);
    }

    // The machine is kept in millimetres and its owner asks for inches: the same run, and the description keeps its unit.
    [Fact]
    public void Units_asked_for_hold_for_the_run_and_for_its_going_on_and_leave_the_machine_as_it_is()
    {
        using var journal = SessionScene.Journal();
        var session = Session(journal, "periodic-error", SessionScene.Heron, LengthUnit.Inch);
        Answers.UntilReading(session, (need, s) => need is Need.Number { Step: "turn", TypedIn: "in" } && s.Number("0.19685", 5.000) is not null);
        Assert.All(session.Run.Cells, cell => Assert.EndsWith(" in", ((Need.TakeReading)session.Needs).Moves[^1].Words.Replace(", coming from below", "", StringComparison.Ordinal), StringComparison.Ordinal));
        var cells = session.Run.Cells;
        session.Read("0.1", 2.54).Require();
        var again = Session(journal, "periodic-error", SessionScene.Heron, LengthUnit.Millimetre);
        Assert.True(again.Resumed);
        Assert.Equal(cells.Select(cell => cell.Given["commanded_mm"]), again.Run.Cells.Select(cell => cell.Given["commanded_mm"]));
        Assert.All(journal.Entries().Select(entry => entry.Body).OfType<EntryBody.MachineDescribed>(), body => Assert.Equal(LengthUnit.Millimetre, body.Description.Units));
    }

    [Fact]
    public void A_run_kept_in_a_unit_that_nobody_knows_is_told_and_not_taken_up()
    {
        using var journal = SessionScene.Journal();
        journal.Append(new EntryBody.RunStarted
        {
            Machine = "Heron", Procedure = "diagonals", ProcedureHash = "h1", Options = System.Collections.Immutable.ImmutableSortedDictionary<string, string>.Empty.Add("units", "cubit"),
        }).Require();
        var bad = Assert.IsType<Core.Outcome<ProcedureSession>.Bad>(ProcedureSession.Open(journal, SessionScene.Request("diagonals", null) with { Resume = true }));
        Assert.Contains("cubit", bad.Problems[0].What, StringComparison.Ordinal);
    }

    [Fact]
    public void Checks_keep_millimetres_in_the_journal_whatever_was_said()
    {
        using var journal = SessionScene.Journal();
        Walked(Session(journal, "tram", Heron, null));
        var closure = journal.Entries().Select(entry => entry.Body).OfType<EntryBody.Checked>().Single(check => check.Check == "closure");
        Assert.Equal(("within 0.02 mm of the first reading", "mm"), (closure.Limit, closure.Unit));
    }

    [Theory]
    [InlineData("pressed in by 0.5 to 1 mm, at 600 mm/min", "pressed in by 0.020 to 0.039 in, at 23.62 in/min")]
    [InlineData("1 mm per m on 500 mm is 0.5 mm.", "1 mm per m on 19.69 in is 0.020 in.")]
    [InlineData("Type the dial's reading in mm, at most in mm/min.", "Type the dial's reading in inches, at most in in/min.")]
    [InlineData("with 2, 3 or 5 mm; steps per mm, and +-50 mm", "with 0.08, 0.12 or 0.20 in; steps per mm, and +-1.97 in")]
    public void Sentences_are_said_in_inches(string text, string expected) => Assert.Equal(expected, InchText.Of(text));

    [Fact]
    public void A_place_is_said_to_the_last_digit_that_can_be_commanded() => Assert.Equal("moved 0.7874 in away from 0", InchText.Commanded("moved 20 mm away from 0"));

    private static ProcedureSession Session(Workshop.Ports.IJournal journal, string id, Machine machine, LengthUnit? shown)
    {
        var pair = machine with { Y = machine.Y with { Motors = 2, PairSetting = PairSetting.Two } };
        var instrument = id is "axis-scale" or "ratio-check" or "test-cut" or "insert-grid" ? Invented.Caliper : id == "diagonals" ? SessionScene.Tape : SessionScene.Indicator;
        return ProcedureSession.Open(journal, SessionScene.Request(id, id == "z-axis" ? AxisName.Z : AxisName.X, instrument, pair) with { Shown = shown }).Require();
    }

    // Everything the session says on the way, each finding in inches as the fronts print it.
    private static string Walked(ProcedureSession session)
    {
        var said = new List<string>();
        for (var i = 0; i < 800 && session.Needs is not Need.Ended; i++)
        {
            said.AddRange(Words(session));
            switch (session.Needs)
            {
                case Need.TakeReading need: session.Read("r", Typed(need)).Require(); break;
                case Need.Evaluate asked:
                    var finding = session.Evaluate().Require();
                    said.AddRange(FindingText.Lines(finding, 0.95, ShownUnits.Inches));
                    var options = asked.Options with { Tolerance = AcceptanceClasses.Shipped.For(finding.Kind, WorkClass.Plastics) };
                    said.AddRange(FindingSheet.Of("p", "n", finding, options, LiveStrip.None, ShownUnits.Inches).Body.Select(line => line.Text));
                    break;
                case Need.Choose { Step: var step } when step.StartsWith("ladder/2", StringComparison.Ordinal): session.Choose("no").Require(); break;
                case Need.Number { Step: "start-speed" }: session.Number("20", 508).Require(); break;
                case Need.Number { Step: "end-speed" }: session.Number("40", 1016).Require(); break;
                case Need.Number { Step: "check-pitch" }: session.Number("p", session.Run.Values["pitch"].Number!.Value).Require(); break;
                case Need.Number { Check.Limit: var limit } when limit.StartsWith("at most", StringComparison.Ordinal): session.Number("0", 0).Require(); break;
                default: Answers.Usual(session); break;
            }
        }

        Assert.Equal("completed", session.Run.How);
        return string.Join("\n", said);
    }

    private static IEnumerable<string> Words(ProcedureSession session) => session.Needs switch
    {
        Need.HazardsFirst hazards => hazards.Hazards.SelectMany(hazard => new[] { hazard.What, hazard.Do }),
        Need.Instruct { Data: Core.Outcome<System.Collections.Immutable.ImmutableArray<Core.Procedures.Aids.WorkData>>.Good good } step => [step.Text, .. good.Value.Select(file => file.About)],
        Need.Instruct step => [step.Text],
        Need.Confirm step => [step.Text],
        Need.Power step => [step.Text],
        Need.Choose step => [step.Text, step.Check?.Limit ?? "", step.Check?.IfOut ?? ""],
        Need.Number step => [$"{step.Text} In {step.TypedIn}.", step.Check?.Limit ?? "", step.Check?.IfOut ?? ""],
        Need.Line step => [step.Question],
        Need.TakeReading step => [step.Text, step.Cell.Place, .. step.Moves.Select(move => move.Words)],
        Need.Change step => [step.Text],
        _ => [],
    };

    private static double Typed(Need.TakeReading need)
    {
        double At(string column) => need.Cell.Given[column];
        var hand = ((need.Index * 7 % 5) - 2) * 0.002;
        if (need.Cell.Given.ContainsKey("x2_mm"))
            return Math.Sqrt(Math.Pow(At("x2_mm") - At("x1_mm"), 2) + Math.Pow(At("y2_mm") - At("y1_mm"), 2)) + (hand * 50);
        if (need.Cell.Given.ContainsKey("nominal_mm"))
            return At("nominal_mm") + hand;
        if (need.Column == "diameter_mm")
            return 100 + hand;
        return need.Cell.Given.ContainsKey("commanded_mm") ? Answers.Axis(need) : (need.Cell.Words.GetValueOrDefault("direction") == "+" ? -0.05 : 0) + hand;
    }

    [GeneratedRegex(@"(?<!(steps|Steps) (per|for one) )\bmm\b(?! per m\b|/m\b)")]
    private static partial Regex Millimetres();
}
