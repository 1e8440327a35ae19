using System.Collections.Immutable;
using System.Text.Json;
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

public sealed class WalkTests
{
    private static readonly ulong[] Seeds = [1, 2, 3, 4, 5];

    private static WalkStation Station(string id)
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder!.FullName, "Commission.sln")))
            folder = folder.Parent;
        var file = Path.Combine(folder.FullName, "procedures", id + ".yaml");
        return new WalkStation(ProcedureReader.Read(file, File.ReadAllText(file)).Require(), "test");
    }

    private static (ImmutableArray<WalkResult> Results, string Printed, ImmutableArray<Finding> Findings) Walked(PracticeBench bench, ulong seed)
    {
        using var journal = new MemoryJournal(StoreNature.Practice, "walk", "test", new FakeTimeProvider());
        using var printed = new StringWriter();
        var results = new Walk(journal, printed).Run([Station("axis-scale")], bench, seed).Require();
        return (results, printed.ToString(), [.. journal.Entries().Select(entry => entry.Body).OfType<EntryBody.FindingMade>().Select(made => made.Finding)]);
    }

    private static PracticeBench NothingWrong(ulong seed)
    {
        var heron = PracticeMachine.Heron(seed);
        AxisState Exact(AxisName axis) => heron.State[axis] with { TrueStepsPerMm = HeronMachine.NominalStepsPerMm, SlowWaveMm = 0 };
        var state = heron.State with { X = Exact(AxisName.X), Y = Exact(AxisName.Y), Z = Exact(AxisName.Z) };
        return new PracticeBench(heron with { State = state }, Hand.Steady, seed);
    }

    [Fact]
    public void The_true_scale_lies_inside_U_as_often_as_U_says()
    {
        var results = Seeds.SelectMany(seed => Walked(PracticeBench.Heron(seed), seed).Results).Where(r => r.Parameter == "scaleError").ToArray();
        Assert.Equal(15, results.Length);
        // At 95 % four or more of fifteen outside happen once in 180 times (binomial).
        Assert.InRange(results.Count(r => r.Inside == true), 12, 15);
    }

    [Fact]
    public void The_same_seed_prints_the_same_walk_byte_for_byte()
    {
        Assert.Equal(Walked(PracticeBench.Heron(3), 3).Printed, Walked(PracticeBench.Heron(3), 3).Printed);
        Assert.NotEqual(Walked(PracticeBench.Heron(3), 3).Printed, Walked(PracticeBench.Heron(4), 4).Printed);
    }

    [Fact]
    public void On_a_machine_with_nothing_wrong_no_more_changes_are_advised_than_stated()
    {
        var findings = Seeds.SelectMany(seed => Walked(NothingWrong(seed), seed).Findings).ToArray();
        Assert.Equal(15, findings.Length);
        // At 5 % four or more of fifteen happen once in 180 times (binomial).
        Assert.InRange(findings.Count(finding => finding.Advice.Action == AdviceAction.Change), 0, 3);
        Assert.DoesNotContain(findings, finding => finding.Advice.Action == AdviceAction.FindTheFault);
    }

    [Fact]
    public void The_walk_ends_with_the_true_value_beside_each_value_found()
    {
        var (results, printed, _) = Walked(PracticeBench.Heron(1), 1);
        Assert.Contains("axis-scale X scaleError: true", printed, StringComparison.Ordinal);
        using var document = JsonDocument.Parse(WalkDocument.Write(1, results));
        Assert.Equal("commission.walk/1", document.RootElement.GetProperty("format").GetString());
        Assert.Equal(results.Length, document.RootElement.GetProperty("results").GetArrayLength());
        Assert.Equal(results[0].Truth, document.RootElement.GetProperty("results")[0].GetProperty("truth").GetDouble());
    }

    [Fact]
    public void A_store_of_a_real_machine_is_refused()
    {
        using var journal = new MemoryJournal(StoreNature.Real, "real", "test", new FakeTimeProvider());
        Assert.False(new Walk(journal, TextWriter.Null).Run([], PracticeBench.Heron(1), 1) is Core.Outcome<ImmutableArray<WalkResult>>.Good);
        Assert.Single(journal.Entries());
    }
}
