using Commission.Core.History;
using Commission.Core.Tests.History;
using Commission.Core.Upkeep;

namespace Commission.Core.Tests.Upkeep;

/// <summary>Every kind of change against every result. What must come out is worked out here from tables of its own (common practice, no source), and not from those of the program.</summary>
public sealed class ChangesAndResultsTests
{
    private static readonly DateTimeOffset Start = new(2031, 5, 4, 9, 0, 0, TimeSpan.Zero);
    private static readonly string[] Axes = ["X", "Y", "Z"];

    // The corner of machines without switches stands in none of the note's rows: it takes the place of homing (contracts) and rests on what its procedure names.
    // Adjacency of the note: ! uses the value, ~ is advice on the order. DIA, NET, SQR and the plate are one item, squareness.
    private const string Adjacency =
        """
        ratio-check nominal-steps!
        switch-logic electrical!
        homing switch-logic!
        reference-corner ratio-check!
        speed-ladder nominal-steps! homing!
        rails frame-twist~
        backlash speed-ladder! gauge-study~
        stiffness backlash!
        periodic-error backlash~
        axis-scale backlash! gauge-study~ ratio-check!
        squareness backlash~ rails~ axis-scale~
        home-offset squareness! homing!
        tram squareness~
        bed-map tram!
        z-square bed-map!
        test-cut axis-scale~ backlash! tram~ runout~
        speed-under-load speed-ladder! test-cut~
        noise switch-logic!
        """;

    // What each change makes stale by itself; the rows of common practice, and the program's own, which UpkeepTests names with their reasons.
    private const string Rows =
        """
        steps-changed axis-scale speed-ladder home-offset
        microsteps-changed nominal-steps ratio-check axis-scale speed-ladder home-offset
        compensation-changed backlash test-cut
        home-offset-changed home-offset squareness
        gantry-loosened rails squareness backlash tram bed-map speed-ladder axis-scale
        bolt-tightened squareness tram
        belt-tensioned axis-scale backlash squareness
        drive-part-replaced backlash axis-scale speed-ladder
        screw-replaced nominal-steps ratio-check speed-ladder backlash periodic-error axis-scale
        spindle-remounted tram runout test-cut
        z-plate-moved z-square tram
        cutter-changed runout test-cut
        board-replaced bed-map
        board-surfaced bed-map
        motor-supply-changed speed-ladder speed-under-load backlash
        speeds-changed speed-ladder speed-under-load
        controller-replaced electrical nominal-steps ratio-check switch-logic homing speed-ladder home-offset axis-scale noise
        wiring-changed electrical switch-logic noise
        switch-moved switch-logic homing home-offset
        machine-moved squareness tram bed-map
        instrument-dropped gauge-study
        instrument-replaced gauge-study
        temperature-changed axis-scale
        """;

    private static readonly Dictionary<string, string[]> Uses = Adjacency.ReplaceLineEndings("\n").Split('\n').Select(line => line.Split(' '))
        .ToDictionary(words => words[0], words => words[1..]);

    private static readonly Machine Heron = new()
    {
        Name = "Heron", TravelMm = [420, 580, 90], X = new() { Switches = Switches.Home, Motors = 1 }, Y = new() { Switches = Switches.Home, Motors = 2 }, Z = new() { Switches = Switches.Home, Motors = 1 },
    };

    public static TheoryData<string, string?> Changes
    {
        get
        {
            var data = new TheoryData<string, string?>();
            foreach (var row in Rows.ReplaceLineEndings("\n").Split('\n'))
            {
                data.Add(row, null);
                data.Add(row, "Y");
            }

            return data;
        }
    }

    [Fact]
    public void The_graph_is_that_of_the_note_edge_by_edge()
    {
        var graph = WorkGraph.All.Where(item => !item.Needs.IsEmpty).ToDictionary(item => item.Id, item => item.Needs.Select(need => need.Item + (need.UsesValue ? "!" : "~")).Order(StringComparer.Ordinal));
        Assert.Equal(Uses.Keys.Order(StringComparer.Ordinal), graph.Keys.Order(StringComparer.Ordinal));
        Assert.All(Uses, pair => Assert.Equal(pair.Value.Order(StringComparer.Ordinal), graph[pair.Key]));
    }

    [Theory]
    [MemberData(nameof(Changes))]
    public void A_change_makes_exactly_the_right_results_stale_and_leaves_all_others_fresh(string row, string? axis)
    {
        var (word, direct) = (row.Split(' ')[0], row.Split(' ')[1..]);
        var upkeep = At([.. Everything(), new EntryBody.ChangeTold(word, axis, "") { Machine = "Heron" }]);
        var expected = Closure(direct, axis);
        // Its checks count by epoch; that they are made again touches nothing else.
        if (ChangeWord.Find(word)!.Reach == ChangeReach.Machine)
            expected.Add(("electrical", null));
        // This machine has switches: the corner does not apply to it.
        foreach (var state in upkeep.All.Where(state => state.Key.Item != "reference-corner"))
        {
            var key = (state.Key.Item, state.Key.Axis);
            Assert.True(expected.Contains(key) == (state.Standing == Standing.Stale), $"{word} {axis}: {key} is {state.Standing}");
        }
    }

    [Fact]
    public void Every_word_of_change_is_tried() =>
        Assert.Equal(ChangeWord.All.Select(change => change.Word).Where(word => word != "crash").Order(StringComparer.Ordinal), Rows.ReplaceLineEndings("\n").Split('\n').Select(row => row.Split(' ')[0]).Order(StringComparer.Ordinal));

    // Measured again and found the same within its U: what rested on it is fresh again without being measured.
    [Theory]
    [InlineData(0.00005, Standing.Fresh)]
    [InlineData(0.0005, Standing.Stale)]
    public void Verifying_within_U_clears_downstream_and_a_real_difference_confirms_it(double found, Standing expected)
    {
        var changed = (EntryBody[])[.. Everything(), new EntryBody.ChangeTold("motor-supply-changed", "X", "") { Machine = "Heron" }];
        Assert.Equal(Standing.Stale, At(changed).State(new ResultKey("Heron", "stiffness", "X")).Standing);
        var again = At([.. changed, Found("speed-ladder", "X", 0), Found("backlash", "X", found)]);
        Assert.Equal(Standing.Fresh, again.State(new ResultKey("Heron", "backlash", "X")).Standing);
        Assert.Equal(expected, again.State(new ResultKey("Heron", "stiffness", "X")).Standing);
    }

    private static HashSet<(string Item, string? Axis)> Closure(string[] direct, string? axis)
    {
        var stale = WorkGraph.All.Where(item => direct.Contains(item.Id)).SelectMany(Keys).Where(key => axis is null || key.Axis is null || key.Axis == axis).ToHashSet();
        for (var before = -1; before != stale.Count;)
        {
            before = stale.Count;
            foreach (var key in WorkGraph.All.SelectMany(Keys).Where(key => Uses.TryGetValue(key.Item, out var needs)
                && needs.Where(need => need.EndsWith('!')).Any(need => stale.Any(other => other.Item == need[..^1] && (other.Axis is null || key.Axis is null || other.Axis == key.Axis)))).ToArray())
                stale.Add(key);
        }

        return stale;
    }

    private static IEnumerable<(string Item, string? Axis)> Keys(WorkItem item) =>
        item.Scope == WorkScope.Axis ? Axes.Select(axis => (item.Id, (string?)axis)) : [(item.Id, null)];

    private static EntryBody[] Everything() => [.. WorkGraph.All.SelectMany(Keys).Select(key => (EntryBody)Found(key.Item, key.Axis, 0))];

    private static EntryBody.FindingMade Found(string kind, string? axis, double value)
    {
        var made = LedgerTests.Found(kind, axis);
        return made with { Finding = made.Finding with { Parameters = [new FittedParameter { Name = "value", Unit = "1", Value = value, ExpandedUncertainty = 1e-4 }] } };
    }

    private static MachineUpkeep At(EntryBody[] bodies) =>
        new(UpkeepFold.From(LedgerTests.Chain([new EntryBody.MachineDescribed(Heron, false) { Machine = "Heron" }, .. bodies])), Heron, Start.AddDays(1));
}
