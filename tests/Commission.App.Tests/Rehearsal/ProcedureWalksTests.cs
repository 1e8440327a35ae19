using System.Collections.Immutable;
using Commission.App.Rehearsal;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Practice.Bench;
using Commission.Practice.Machines;
using Commission.Practice.Operators;
using Commission.Workshop.Ports;
using Microsoft.Extensions.Time.Testing;
using Xunit;

namespace Commission.App.Tests.Rehearsal;

/// <summary>Shipped procedures walked by the simulated operator: each ends, the truth lies inside U as often as stated, advice makes the machine better, and a machine with nothing wrong is left alone.</summary>
public sealed class ProcedureWalksTests
{
    private static readonly ulong[] Seeds = [1, 2, 3, 4, 5];

    public static TheoryData<string> Ids => [.. Walk.Order];

    [Theory]
    [MemberData(nameof(Ids))]
    public void Every_procedure_walks_to_its_end_on_its_own(string id)
    {
        var (_, printed, findings) = Walked(PracticeBench.Heron(7), 7, id);
        Assert.DoesNotContain("no finding", printed, StringComparison.Ordinal);
        Assert.DoesNotContain("put-aside", printed, StringComparison.Ordinal);
        Assert.DoesNotContain("aborted", printed, StringComparison.Ordinal);
        Assert.True(printed.Contains("ended: completed", StringComparison.Ordinal) || printed.Contains("passed over: ", StringComparison.Ordinal), printed);
        Assert.Equal(Station(id).Procedure.AllSteps.Any(step => step is Step.Evaluate { When.IsEmpty: true }) && printed.Contains("ended: completed", StringComparison.Ordinal), findings.Length > 0);
    }

    [Fact]
    public void Over_seeds_the_truth_lies_inside_U_as_often_as_U_says()
    {
        var judged = Seeds.SelectMany(seed => Walked(PracticeBench.Heron(seed), seed, "backlash", "axis-scale", "diagonals", "plate", "square-reversal", "tram", "runout").Results)
            .Where(result => result.Inside is not null).ToArray();
        Assert.True(judged.Length > 150);

        // Results of one run share a caliper and a hand, so that they count for less than their number: 90 % is asked of 95 %.
        var inside = judged.Count(result => result.Inside == true);
        Assert.True(inside >= 0.90 * judged.Length, $"{inside} of {judged.Length}: " + string.Join("; ", judged.Where(result => result.Inside == false).Select(result => result.Words)));
    }

    [Fact]
    public void Advice_that_is_carried_out_leaves_a_smaller_error_than_before()
    {
        foreach (var seed in Seeds)
        {
            var bench = PracticeBench.Heron(seed);
            bench.Rework(state => state with { Frame = state.Frame with { SquarenessXY = 0.002 }, Spindle = state.Spindle with { TiltX = 0.0015, TiltY = -0.001 } });
            var (angle, tilt, play) = (bench.Machine.SquarenessXY, Tilt(bench), bench.Machine.LostMotion(AxisName.X, 210));
            var (results, _, findings) = Walked(bench, seed, "square-reversal", "square-reversal", "tram", "tram");
            Assert.Contains(findings, finding => finding.Advice.Action == AdviceAction.Change);
            var angles = results.Where(result => result.Parameter == "squareness").ToArray();
            Assert.Equal(angle, angles[0].Truth, 1e-9);

            // What is left after the change is what the first finding was unsure of.
            Assert.True(Math.Abs(angles[1].Truth) < Math.Abs(angles[0].Truth) / 2, $"seed {seed}: {angles[1].Words}");
            Assert.True(Math.Abs(angles[1].Truth) <= 1.5 * angles[0].ExpandedUncertainty, $"seed {seed}: {angles[1].Words}");
            Assert.True(Tilt(bench) < tilt / 2, $"seed {seed}: tilt {tilt} became {Tilt(bench)}");
            Assert.True(play > 0);
        }
    }

    [Fact]
    public void With_nothing_wrong_no_finding_is_raised()
    {
        foreach (var seed in Seeds)
        {
            var (_, _, findings) = Walked(Perfect(seed), seed, "axis-scale", "diagonals", "plate", "square-reversal", "tram", "bed-map");
            Assert.NotEmpty(findings);
            Assert.DoesNotContain(findings, finding => finding.Advice.Action == AdviceAction.FindTheFault);
            Assert.DoesNotContain(findings, finding => finding.Verdict == Verdict.Outside);
            Assert.True(findings.Count(finding => finding.Advice.Action == AdviceAction.Change) <= 1, $"seed {seed}");
        }
    }

    private static double Tilt(PracticeBench bench) => Math.Sqrt(Math.Pow(bench.Machine.State.Spindle.TiltX, 2) + Math.Pow(bench.Machine.State.Spindle.TiltY, 2));

    private static PracticeBench Perfect(ulong seed)
    {
        var heron = PracticeMachine.Heron(seed);
        AxisState Exact(AxisName axis) => heron.State[axis] with
        {
            TrueStepsPerMm = HeronMachine.NominalStepsPerMm,
            SlowWaveMm = 0,
            PeriodicAmplitudeMm = 0,
            ClearanceMm = 0.005,
            WearShare = 0,
            FrictionLagMm = 0.002,
        };
        var state = heron.State with
        {
            X = Exact(AxisName.X),
            Y = Exact(AxisName.Y),
            Z = Exact(AxisName.Z),
            DriveWarmerK = 0,
            Frame = new FrameState(0, 0, 0, 0, 0),
            Spindle = heron.State.Spindle with { TiltX = 0, TiltY = 0 },
            Bed = new BedState(0, 0, 0, 0),
        };
        return new PracticeBench(heron with { State = state }, Hand.Steady, seed);
    }

    private static (ImmutableArray<WalkResult> Results, string Printed, ImmutableArray<Finding> Findings) Walked(PracticeBench bench, ulong seed, params string[] ids)
    {
        using var journal = new MemoryJournal(StoreNature.Practice, "walk", "test", new FakeTimeProvider());
        using var printed = new StringWriter();
        var results = new Walk(journal, printed).Run([.. ids.Select(Station)], bench, seed).Require();
        return (results, printed.ToString(), [.. journal.Entries().Select(entry => entry.Body).OfType<EntryBody.FindingMade>().Select(made => made.Finding)]);
    }

    private static WalkStation Station(string id)
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder!.FullName, "Commission.sln"))) folder = folder.Parent;
        var file = Path.Combine(folder.FullName, "procedures", id + ".yaml");
        return new WalkStation(ProcedureReader.Read(file, File.ReadAllText(file)).Require(), "test");
    }
}
