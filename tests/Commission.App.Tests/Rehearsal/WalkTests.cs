using System.Collections.Immutable;
using System.Text.Json;
using Commission.App.Rehearsal;
using Commission.Core.Procedures;
using Commission.Practice.Bench;
using Commission.Proof.Walks;
using Commission.Tests;
using Microsoft.Extensions.Time.Testing;

namespace Commission.App.Tests.Rehearsal;

public sealed class WalkTests
{
    private static WalkedScene Walked(ulong seed) => WalkScene.Walked(PracticeBench.Heron(seed), seed, ["axis-scale"]);

    private static WalkStation Station(string id) => WalkScene.Station(id);

    [Fact]
    public void The_same_seed_prints_the_same_walk_byte_for_byte()
    {
        Assert.Equal(Walked(3).Printed, Walked(3).Printed);
        Assert.NotEqual(Walked(3).Printed, Walked(4).Printed);
    }

    [Fact]
    public void The_walk_ends_with_the_true_value_beside_each_value_found()
    {
        var (results, printed) = (Walked(1).Results, Walked(1).Printed);
        Assert.Contains("axis-scale X scaleError: true", printed, StringComparison.Ordinal);
        using var document = JsonDocument.Parse(WalkDocument.Write(1, results));
        Assert.Equal("commission.walk/1", document.RootElement.GetProperty("format").GetString());
        Assert.Equal(results.Length, document.RootElement.GetProperty("results").GetArrayLength());
        Assert.Equal(results[0].Truth, document.RootElement.GetProperty("results")[0].GetProperty("truth").GetDouble());
    }

    private static string[] Library() => [.. ShippedProcedures.Ids];

    private static MemoryJournal Journal() => new(StoreNature.Practice, "walk", "test", new FakeTimeProvider());

    [Fact]
    public void The_order_of_work_holds_every_procedure_of_the_library_once_and_nothing_before_what_it_rests_on()
    {
        Assert.Equal(Library(), OrderOfWork.Ids.Where(Library().Contains).Order(StringComparer.Ordinal));
        foreach (var item in Core.Upkeep.WorkGraph.All)
        {
            foreach (var need in item.Needs.Select(need => Core.Upkeep.WorkGraph.All.Single(other => other.Id == need.Item)))
            {
                var first = item.Procedures.Select(OrderOfWork.Ids.IndexOf).Where(at => at >= 0).Min();
                Assert.True(need.Procedures.Select(OrderOfWork.Ids.IndexOf).Where(at => at >= 0).Min() < first, $"{item.Id} stands before {need.Id}");
            }
        }
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
