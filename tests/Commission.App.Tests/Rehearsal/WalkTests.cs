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
        var file = Path.Combine(Folder(), id + ".yaml");
        return new WalkStation(ProcedureReader.Read(file, File.ReadAllText(file)).Require(), "test");
    }

    private static string Folder()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder!.FullName, "Commission.sln")))
            folder = folder.Parent;
        return Path.Combine(folder.FullName, "procedures");
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

    private static string[] Library() => [.. Directory.GetFiles(Folder(), "*.yaml").Select(file => Path.GetFileNameWithoutExtension(file)!).Order(StringComparer.Ordinal)];

    private static MemoryJournal Journal() => new(StoreNature.Practice, "walk", "test", new FakeTimeProvider());

    [Fact]
    public void The_order_of_work_holds_every_procedure_of_the_library_once_and_nothing_before_what_it_rests_on()
    {
        Assert.Equal(Library(), Walk.Order.Where(Library().Contains).Order(StringComparer.Ordinal));
        foreach (var item in Core.Upkeep.WorkGraph.All)
        {
            foreach (var need in item.Needs.Select(need => Core.Upkeep.WorkGraph.All.Single(other => other.Id == need.Item)))
            {
                var first = item.Procedures.Select(Walk.Order.IndexOf).Where(at => at >= 0).Min();
                Assert.True(need.Procedures.Select(Walk.Order.IndexOf).Where(at => at >= 0).Min() < first, $"{item.Id} stands before {need.Id}");
            }
        }
    }

    [Fact]
    public void The_whole_order_walks_to_its_end_without_anything_left_unread_or_unevaluated()
    {
        using var journal = Journal();
        using var printed = new StringWriter();
        var results = new Walk(journal, printed).Run([.. Walk.Order.Where(Library().Contains).Select(Station)], PracticeBench.Heron(1), 1).Require();
        Assert.DoesNotContain("no finding", printed.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain("put-aside", printed.ToString(), StringComparison.Ordinal);
        string[] kinds = ["axis-scale", "backlash", "squareness", "square-reversal", "tram", "flatness", "runout", "test-cut", "test-circle", "stiffness"];
        Assert.Empty(kinds.Except(results.Select(result => result.Characteristic)));
        Assert.Contains(results, result => result is { Characteristic: "square-reversal", Axis: "XZ" });
    }

    [Fact]
    public void The_study_of_the_hand_is_used_by_what_comes_after_it()
    {
        using var journal = Journal();
        new Walk(journal, TextWriter.Null).Run([Station("gauge-study"), Station("axis-scale")], PracticeBench.Heron(2), 2).Require();
        var made = journal.Entries().Select(entry => entry.Body).OfType<EntryBody.FindingMade>().ToArray();
        Assert.Null(made.First(finding => finding.Characteristic == "gauge-study").Options.Hand);
        Assert.All(made.Where(finding => finding.Characteristic == "axis-scale"), finding => Assert.Equal("caliper-150", finding.Options.Hand?.Instrument));
    }

    [Fact]
    public void A_kept_store_goes_on_with_the_machine_as_it_was_left_and_with_new_readings()
    {
        using var journal = Journal();
        PracticeBench Bench() => PracticeRecord.Bench(Ledger.From(journal.Entries()), 7);
        var first = new Walk(journal, TextWriter.Null).Run([Station("backlash"), Station("diagonals")], Bench(), 7).Require();
        var left = Bench();
        left.Set(left.Machine.Settings.WithCompensation(AxisName.X, 0.03));
        Assert.Null(new PracticeRecord(journal, 7).Keep(left));

        var again = Bench();
        Assert.Equal(0.03, again.Machine.Settings.CompensationMm[0], 12);
        Assert.Equal(7UL, PracticeRecord.SeedOf(Ledger.From(journal.Entries())));
        var second = new Walk(journal, TextWriter.Null).Run([Station("backlash")], again, 7).Require();
        Assert.Single(journal.Entries(), entry => entry.Body is EntryBody.OperatorEntered);
        Assert.NotEqual(first[0].Found, second[0].Found);
        Assert.Equal(first[0].Truth + 0.03, second[0].Truth, 9);
    }

    [Fact]
    public void Readings_of_which_the_practice_machine_knows_nothing_are_refused_and_not_made_up()
    {
        using var journal = Journal();
        var gauge = Station("gauge-study");
        var foreign = gauge with { Procedure = gauge.Procedure with { Id = "weather", Steps = [.. gauge.Procedure.Steps.Where(step => step is not Step.Evaluate)] } };
        var outcome = new Walk(journal, TextWriter.Null).Run([foreign], PracticeBench.Heron(1), 1);
        Assert.Contains("weather", Assert.IsType<Core.Outcome<ImmutableArray<WalkResult>>.Bad>(outcome).Problems[0].What, StringComparison.Ordinal);
    }

    [Fact]
    public void A_store_of_a_real_machine_is_refused()
    {
        using var journal = new MemoryJournal(StoreNature.Real, "real", "test", new FakeTimeProvider());
        Assert.False(new Walk(journal, TextWriter.Null).Run([], PracticeBench.Heron(1), 1) is Core.Outcome<ImmutableArray<WalkResult>>.Good);
        Assert.Single(journal.Entries());
    }
}
