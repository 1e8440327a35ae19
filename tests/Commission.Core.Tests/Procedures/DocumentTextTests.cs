using System.Collections.Immutable;
using Commission.Core.Instruments;
using Commission.Core.Procedures;
using Commission.Tests;
using CsCheck;

namespace Commission.Core.Tests.Procedures;

public sealed class DocumentTextTests
{
    private static RunSetting Setting { get; } = new()
    {
        Machine = new Machine { Name = "Heron", TravelMm = [420, 580, 90], X = new AxisDescription { TravelPerTurnMm = 5, StepsPerMm = 320 } },
        Axis = AxisName.X,
        Instrument = Invented.Caliper,
    };

    [Fact]
    public void A_document_names_every_hazard_every_step_and_every_slip()
    {
        foreach (var procedure in Shipped.Procedures)
        {
            var text = string.Join('\n', DocumentText.Lines(procedure));
            Assert.Contains("Hazards", text, StringComparison.Ordinal);
            Assert.All(procedure.AllSteps.OfType<Step.Check>(), check => Assert.Contains($"Check {check.Id}: ", text, StringComparison.Ordinal));
            Assert.True(text.IndexOf("\nHazards\n", StringComparison.Ordinal) < text.IndexOf("\nSteps\n", StringComparison.Ordinal));
        }
    }

    [Fact]
    public void The_axis_is_named_where_it_is_known_and_no_placeholder_is_left_for_the_reader()
    {
        Assert.Contains("run X to and fro", string.Join('\n', DocumentText.Lines(Shipped.Procedure("axis-scale"), AxisName.X)), StringComparison.Ordinal);
        Assert.Contains("run the axis to and fro", string.Join('\n', DocumentText.Lines(Shipped.Procedure("axis-scale"))), StringComparison.Ordinal);
        Assert.Contains("[drive width]", string.Join('\n', Shipped.Procedures.SelectMany(procedure => DocumentText.Lines(procedure))), StringComparison.Ordinal);
        Assert.All(Shipped.Procedures.SelectMany(procedure => DocumentText.Lines(procedure)), line => Assert.DoesNotMatch("\\{[a-zA-Z]", line));
    }

    [Fact]
    public void A_drawing_and_its_words_stand_in_the_document_and_on_the_printed_sheet_with_the_axis_filled_in()
    {
        var procedure = Shipped.Procedure("axis-scale");
        foreach (var lines in new[] { DocumentText.Lines(procedure, AxisName.X), SheetText.Lines(procedure, Setting).Require() })
        {
            Assert.Contains(lines, line => line.EndsWith("    ===+=====+============================+=====+=== X", StringComparison.Ordinal));
            Assert.Contains(lines, line => line.TrimStart().StartsWith("In words: Two blocks stand face to face on a line along X,", StringComparison.Ordinal));
        }
    }

    [Fact]
    public void The_words_of_a_drawing_are_two_sentences_at_most()
    {
        var drawn = Shipped.Procedures.SelectMany(procedure => procedure.AllSteps).OfType<Step.Instruct>().Select(step => step.Drawing).OfType<StepDrawing>().ToArray();
        Assert.InRange(drawn.Length, 8, int.MaxValue);
        Assert.All(drawn, drawing => Assert.InRange(drawing.Words.Split(". ").Length, 1, 2));
    }

    [Fact]
    public void A_printed_sheet_has_one_empty_box_for_each_reading_in_the_order_of_the_run()
    {
        var sheet = SheetText.Lines(Shipped.Procedure("axis-scale"), Setting).Require();
        var boxes = sheet.Where(line => line.Contains("[            ]", StringComparison.Ordinal)).ToImmutableArray();
        Assert.Equal(10, boxes.Length);
        Assert.StartsWith("    1  near", boxes[0], StringComparison.Ordinal);
        Assert.StartsWith("    2  far", boxes[1], StringComparison.Ordinal);
    }

    [Fact]
    public void Any_sequence_of_events_keeps_a_run_in_range_and_gives_the_same_run_again()
    {
        var all = Shipped.Procedures;
        Gen.Select(Gen.Int[0, all.Length - 1], Gen.Int[0, 13].Array[0, 120]).SampleFixed((which, events) =>
        {
            var procedure = all[which];
            var setting = Setting with { Machine = Shipped.MachineFor(procedure), Link = which % 2 == 0 };
            var (one, two) = (ProcedureRun.Start(procedure, setting).Require(), ProcedureRun.Start(procedure, setting).Require());
            for (var i = 0; i < events.Length; i++)
            {
                (one, two) = (one.After(EventOf(events[i], i, one)), two.After(EventOf(events[i], i, two)));
                if (one.Position < -1 || one.Position > one.Items.Length || one.NextCell > one.Cells.Length) return false;
                if (one.Needs.GetType() != two.Needs.GetType() || one.Needs.Step != two.Needs.Step || one.Note != two.Note) return false;
            }

            return Facts(one).SequenceEqual(Facts(two));
        }, iter: 300);
    }

    private static IEnumerable<(long, double, int, string?, string?)> Facts(ProcedureRun run) =>
        run.Readings.Select(reading => (reading.Sequence, reading.Value, reading.CellIndex, reading.Superseded, reading.Excluded));

    // Mostly what is asked for, so that runs come far; sometimes anything.
    private static RunEvent EventOf(int kind, int i, ProcedureRun run) => kind switch
    {
        0 => new RunEvent.SlipFound(i - 1, "odd", 3),
        1 => new RunEvent.ReadAgain(i - 2),
        2 => new RunEvent.LeftOut(i - 1, "dropped"),
        3 => new RunEvent.Skipped("not today"),
        4 => new RunEvent.NumberGiven("9e99", double.PositiveInfinity),
        5 => new RunEvent.Chosen("no"),
        _ => run.Needs switch
        {
            Need.HazardsFirst => new RunEvent.HazardsRead(),
            Need.Choose => new RunEvent.Chosen("yes"),
            Need.Number => new RunEvent.NumberGiven("1", 1),
            Need.Line => new RunEvent.TextGiven(""),
            Need.TakeReading => new RunEvent.ReadingTaken(i, "1", i),
            Need.SlipQuestion => new RunEvent.SlipAnswered((SlipAnswer)(i % 3), i),
            Need.CheckOut => new RunEvent.CheckRepeated(),
            Need.Motion => new RunEvent.Moved(),
            Need.Wait => new RunEvent.Waited(),
            Need.Evaluate => new RunEvent.NotEvaluated("not here"),
            Need.Change => new RunEvent.ChangeLeft(),
            _ => new RunEvent.Confirmed(),
        },
    };
}
