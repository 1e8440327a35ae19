using Commission.Core;
using Commission.Core.Instruments;
using Commission.Practice.Bench;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Pages;

namespace Commission.App.Tests.Screens;

/// <summary>The route card of every shipped procedure in the smallest window: hazards whole, nothing cut, and what has no room stands in the help.</summary>
public sealed class RouteCardTests
{
    public static TheoryData<string> Procedures => [.. PracticeStore.All().Select(procedure => procedure.Id)];

    [Theory]
    [MemberData(nameof(Procedures))]
    public void Nothing_on_a_route_card_is_cut_and_what_has_no_room_is_told_by_F1(string id)
    {
        var page = Card(id);
        var rows = page.Show(80, 24).Body.Select(line => line.Text.TrimEnd()).ToArray();
        Assert.True(rows.Length <= 18, string.Join('\n', rows));
        Assert.DoesNotContain(rows, row => row.EndsWith("...", StringComparison.Ordinal) || row.EndsWith("..", StringComparison.Ordinal));
        Assert.StartsWith(" Route   1 read this  2 ", rows[0], StringComparison.Ordinal);
        foreach (var word in (string[])["Route", "Takes"])
            Assert.Contains(page.Help, line => line.StartsWith(word + ": ", StringComparison.Ordinal));
        var steps = page.Help.Single(line => line.StartsWith("Route: ", StringComparison.Ordinal));
        Assert.DoesNotContain("...", steps, StringComparison.Ordinal);
        if (!rows.Any(row => row.EndsWith("more: F1", StringComparison.Ordinal) || row.EndsWith("more (F1)", StringComparison.Ordinal)))
            Assert.Equal(page.Help.Count(IsOfTheCard), rows.Count(row => row.Length > 9 && row[1] is >= 'A' and <= 'Z' && row[0] == ' ' && !row.StartsWith(" For ", StringComparison.Ordinal)));
    }

    // Found in use: "3 p01  4 p02  5 p03", with what and when it ends only under F1, and a sentence that ended in its middle.
    [Fact]
    public void The_longest_list_tells_its_checks_by_the_first_and_how_many_follow_and_has_every_line_of_the_card()
    {
        var rows = Card("first-power-up").Show(80, 24).Body.Select(line => line.Text.TrimEnd()).ToArray();
        Assert.StartsWith(" Route   1 read this  2 dead  3 P01 and 3 more", rows[0], StringComparison.Ordinal);
        Assert.Contains(rows, row => row.EndsWith(" more (F1)", StringComparison.Ordinal));
        Assert.DoesNotContain("         more: F1", rows);
        Assert.Equal(["Route", "For", "Takes", "With", "Ends"], rows.Where(row => row.Length > 9 && row[0] == ' ' && row[1] != ' ').Select(row => row.Split(' ')[1]));
        Assert.Equal(4, rows.Count(row => row.StartsWith("//// HAZARD  ", StringComparison.Ordinal)));
    }

    // The owner's own job moves it in these, for minutes: the card once said that the machine does not move.
    [Theory]
    [InlineData("speed-under-load")]
    [InlineData("surfacing")]
    [InlineData("noise")]
    [InlineData("test-cut")]
    [InlineData("insert-grid")]
    public void No_card_says_that_a_machine_stands_still_which_its_owner_runs(string id) =>
        Assert.DoesNotContain("does not move", string.Join('\n', Card(id).Show(120, 40).Body.Select(line => line.Text)), StringComparison.Ordinal);

    [Fact]
    public void The_scale_says_how_often_it_moves_what_it_gives_and_up_to_where_within_can_be_said()
    {
        var rows = Card("axis-scale").Show(80, 24).Body.Select(line => line.Text.TrimEnd()).ToArray();
        Assert.Contains(" Takes   25 min. Machine moves: yes, 10 times along X, at most 600 mm/min.", rows);
        // Limit less g = t(0.95) u, the half width of the bar: 1250 - 0.839 x 280 = 1015, in two digits and never rounded up.
        Assert.Contains(" Gives   U about 280 ppm. Limit 1250 ppm: \"within\" up to +/-1000. P plan", rows);
        Assert.Equal(["Route", "For", "Takes", "With", "Gives", "Needs", "Ends"], rows.Where(row => row.Length > 9 && row[0] == ' ' && row[1] != ' ').Select(row => row.Split(' ')[1]));
    }

    [Fact]
    public void A_caliper_of_150_mm_is_not_named_for_distances_of_several_hundred()
    {
        var network = PracticeStore.All().Single(procedure => procedure.Id == "distance-network");
        var machine = PracticeBench.Heron(KnownMachine.Seed).Machine.Description;
        var (caliper, tape) = (new Instrument("caliper-150", InstrumentKind.CaliperDigital, 0.03, 0.01, 150, "invented"), new Instrument("tape", InstrumentKind.Tape, 0.5, 0.5, 2000, "invented"));
        Assert.Equal("caliper-150", KitChoice.For(network, [caliper, tape], "caliper-150")?.Name);
        Assert.Equal("tape", KitChoice.For(network, [caliper, tape], "caliper-150", machine)?.Name);
        Assert.Null(KitChoice.For(network, [caliper], "caliper-150", machine));
        // Places at 3 and 97 % of 420 and 580 mm less margins: the diagonal is longer than either travel.
        Assert.InRange(KitChoice.LongestMm(network, machine)!.Value, 580, Math.Sqrt((420 * 420) + (580 * 580)));
        // What is read on a sheet is made for the caliper.
        Assert.Null(KitChoice.LongestMm(PracticeStore.All().Single(procedure => procedure.Id == "plate"), machine));
    }

    // Found by use: twelve distances were read before it was said that they give no U, and nothing told how an instrument is named.
    [Theory]
    [InlineData("distance-network", true)]
    [InlineData("first-power-up", false)]
    public void Where_no_instrument_serves_the_card_says_what_that_costs_and_where_one_is_named(string id, bool costs)
    {
        var help = Card(id, kit: false).Help.Single(line => line.StartsWith("With: for ", StringComparison.Ordinal));
        Assert.Equal(costs, help.EndsWith(". Without one the result will have no U; K names one", StringComparison.Ordinal));
        var rows = string.Join(' ', Card(id, kit: false).Show(80, 24).Body.Select(line => line.Text.Trim()));
        Assert.Equal(costs, rows.Contains("no U; K names one", StringComparison.Ordinal));
    }

    private static bool IsOfTheCard(string line) => ((string[])["Route", "Left", "Takes", "With", "Gives", "Plan", "Needs", "Ends"]).Any(word => line.StartsWith(word + ": ", StringComparison.Ordinal));

    private static OverviewPage Card(string id, bool kit = true)
    {
        var clock = KnownMachine.Clock();
        using var journal = KnownMachine.Journal(clock);
        foreach (var known in kit ? [] : Ledger.From(journal.Entries()).Kit.Where(one => one.Kind is InstrumentKind.Tape or InstrumentKind.Rule))
            journal.Append(new EntryBody.InstrumentDescribed(known, Retired: true)).Require();
        var desk = ScreenProgram.DeskOf(KnownMachine.Options(journal, id), clock);
        var procedure = desk.Means.Procedures.Single(one => one.Id == id);
        return new OverviewPage(desk, procedure, procedure.ForOneAxis ? AxisName.X : null);
    }
}
