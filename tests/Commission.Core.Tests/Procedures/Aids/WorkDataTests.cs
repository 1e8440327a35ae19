using System.Collections.Immutable;
using System.Text.RegularExpressions;
using Commission.Core.Instruments;
using Commission.Core.Procedures;
using Commission.Core.Procedures.Aids;
using Commission.Tests;
using CsCheck;

namespace Commission.Core.Tests.Procedures.Aids;

public sealed partial class WorkDataTests
{
    private static Machine Heron { get; } = Shipped.MachineFor(Shipped.Procedure("plate"));

    private static RunSetting Setting(double rangeMm) => new() { Machine = Heron, Instrument = new Instrument("c", InstrumentKind.CaliperDigital, 0.03, 0.01, rangeMm, "invented") };

    private static ImmutableArray<WorkData> Made(string kind, params (string Name, double Value)[] with) => MadeFor(Heron, kind, with);

    private static ImmutableArray<WorkData> MadeFor(Machine machine, string kind, params (string Name, double Value)[] with)
    {
        var numbers = with.ToDictionary(pair => pair.Name, pair => pair.Value);
        return DataKinds.Find(kind)!.Make(new DataRequest(
            Shipped.Procedure("plate"), machine, Setting(150), name => numbers.TryGetValue(name, out var value) ? value : null, _ => null)).Require();
    }

    // All lines run from zero in +: from a home at the high end the first of them would lead over the end of travel.
    [Theory]
    [InlineData(HomeEnd.Low, null)]
    [InlineData(HomeEnd.High, "The reference place of X is at the high end: do not leave zero there, but go to the low end and set it anew")]
    [InlineData(HomeEnd.Unknown, "The reference place of X is not known to be at the low end: do not leave zero there")]
    public void Lines_over_the_whole_reach_say_that_zero_is_the_low_end_also_where_home_is_elsewhere(HomeEnd home, string? said)
    {
        var machine = Heron with { X = Heron.X with { HomeAt = home }, Y = Heron.Y with { HomeAt = HomeEnd.Low } };
        string[] abouts =
        [
            MadeFor(machine, "surface-board", ("cutter-mm", 22), ("depth-mm", 0.6), ("feed-mm-min", 2000))[0].About,
            MadeFor(machine, "insert-grid", ("pitch-mm", 75), ("cutter-mm", 22), ("insert-mm", 8), ("feed-mm-min", 200))[1].About,
        ];
        Assert.All(abouts, about =>
        {
            Assert.Contains("Zero of X and Y is the low end of both", about, StringComparison.Ordinal);
            Assert.Equal(said is not null, about.Contains("reference place", StringComparison.Ordinal));
            Assert.Contains(said ?? "", about, StringComparison.Ordinal);
        });
    }

    [Fact]
    public void No_line_for_the_machine_has_a_word_that_starts_a_spindle_or_chooses_a_tool()
    {
        ImmutableArray<WorkData> all =
        [
            .. Made("drill-plate", ("depth-mm", 4), ("feed-mm-min", 150)),
            .. Made("cut-coupon", ("cutter-mm", 6), ("feed-mm-min", 600)),
            .. Made("surface-board", ("cutter-mm", 22), ("depth-mm", 0.6), ("feed-mm-min", 2000)),
            .. Made("insert-grid", ("pitch-mm", 75), ("cutter-mm", 22), ("insert-mm", 8), ("feed-mm-min", 200)),
        ];
        Assert.Equal(8, all.Length);
        Assert.All(all.Where(data => data.Name.EndsWith(".txt", StringComparison.Ordinal)).SelectMany(data => data.Lines), line => Assert.Matches(Motion(), line));
    }

    // Our own design of the plate, sheet 200 x 150 mm: hole 1 at 18, 29 from below in both, hole 3 at 142, 16 from above in both, 5 mm of overrun.
    [Fact]
    public void Holes_of_the_plate_are_come_to_from_their_own_sides_by_five_millimetres()
    {
        var lines = Made("drill-plate", ("depth-mm", 4), ("feed-mm-min", 150))[0].Lines;
        Assert.Equal("G21 G90 G17 G94", lines[0]);
        Assert.Equal(["G0 X13 Y24", "G1 X18 Y29 F600", "G1 Z-4 F150", "G0 Z5"], lines.Skip(2).Take(4));
        Assert.Equal(["G0 X147 Y21", "G1 X142 Y16 F600"], lines.Skip(10).Take(2));
        Assert.Equal(2 + (8 * 4), lines.Length);
    }

    // The distances that are read afterwards take the marks to lie there: over 420 x 580 mm, 3 and 97 % of the travel less its margins, snapped to whole steps.
    [Fact]
    public void The_places_of_marks_are_those_that_their_distances_are_judged_by()
    {
        var procedure = Shipped.Procedure("distance-network");
        var lines = DataKinds.Find("mark-places")!.Make(new DataRequest(procedure, Heron, Setting(150), _ => null, _ => null)).Require()[0].Lines;
        Assert.Equal(9, lines.Length);
        var marks = MarkPlan.Marks(procedure.AllSteps.OfType<Step.Read>().Select(read => read.Grid).OfType<Grid.Distances>().Single(), Heron, null);
        Assert.Equal(marks.Select(mark => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{mark.Name}   X {mark.XMm:F3} mm   Y {mark.YMm:F3} mm")), lines);
        Assert.StartsWith("A   X ", lines[0], StringComparison.Ordinal);
    }

    // Own arithmetic: nominal centre distances of the plate's design from its eight places by the Pythagorean theorem, three decimals; positions are snapped to whole steps of 1/320 mm.
    [Theory]
    [InlineData("1", "3", 124.680)]
    [InlineData("2", "4", 138.279)]
    [InlineData("6", "8", 91.924)]
    public void Centre_distances_of_the_plate_are_those_of_its_design(string from, string to, double expected)
    {
        var marks = Marks(150);
        Assert.Equal(expected, Distance(marks, from, to), 0.004);
        Assert.Equal(expected * 240 / 140, Distance(Marks(250), from, to), 0.006);
    }

    [Fact]
    public void A_plate_for_a_long_caliper_stays_inside_the_travel() =>
        Gen.Double[60, 2000].SampleFixed(range => Marks(range).All(mark => mark.XMm - 5 > 0 && mark.XMm + 5 < 420 && mark.YMm - 5 > 0 && mark.YMm + 5 < 580), iter: 200);

    [Fact]
    public void The_coupon_cuts_each_measured_wall_half_a_cutter_away()
    {
        var coupon = Made("cut-coupon", ("cutter-mm", 6), ("feed-mm-min", 600));
        Assert.Contains("G1 X13 Y13 F600", coupon[0].Lines);
        Assert.Contains("G1 X7 Y7 F600", coupon[1].Lines);
        Assert.Contains(coupon[2].Lines, line => line.StartsWith("G2 X0 Y-53 I-53 J0", StringComparison.Ordinal));
        Assert.Contains(coupon[3].Lines, line => line.StartsWith("G3 X0 Y53 I-53 J0", StringComparison.Ordinal));
        Assert.DoesNotContain(coupon.SelectMany(data => data.Lines), line => line.Contains("Z-3.", StringComparison.Ordinal) || line.Contains("Z-4", StringComparison.Ordinal));
    }

    // Reckoned by hand: travel 420 by 580, cutter 22: 16 mm from each end, 388 by 548; pitch 75: 6 by 8 places.
    [Fact]
    public void Inserts_fill_the_area_the_cutter_reaches_and_keep_out_of_what_lies_below()
    {
        var all = InsertGrid.Of(420, 580, 75, 22, 8, []).Require();
        Assert.Equal((388.0, 548.0, 48, 0), (all.UsableWidthMm, all.UsableDepthMm, all.Places.Length, all.LeftOut));
        var rows = Made("insert-grid", ("pitch-mm", 75), ("cutter-mm", 22), ("insert-mm", 8), ("feed-mm-min", 200))[0].Lines;
        Assert.Equal("number,x_mm,y_mm", rows[0]);
        Assert.Equal(49, rows.Length);
        Assert.Equal("1,22.5,27.5", rows[1]);

        var beam = KeepOut.Parse("160 0 260 580").Require();
        var kept = InsertGrid.Of(420, 580, 75, 22, 8, beam).Require();
        Assert.Equal(16, kept.LeftOut);
        Assert.DoesNotContain(kept.Places, place => place.X > 144 && place.X < 276);
    }

    [Fact]
    public void Any_grid_stays_in_the_area_and_its_neighbours_are_a_pitch_apart() =>
        Gen.Select(Gen.Double[100, 1500], Gen.Double[20, 300], Gen.Double[1, 60]).SampleFixed((travel, pitch, cutter) =>
            InsertGrid.Of(travel, travel, pitch, cutter, 8, []).Match(
                grid => grid.Places.All(place => place.X >= cutter / 2 && place.X <= travel - (cutter / 2)) && grid.Places.Distinct().Count() == grid.Places.Length,
                _ => cutter + 10 > travel), iter: 300);

    [Theory]
    [InlineData("100 0 90 50")]
    [InlineData("1 2 3")]
    [InlineData("a b c d")]
    public void A_rectangle_that_is_none_is_refused_in_words(string text) =>
        Assert.Contains("no rectangle", Assert.IsType<Outcome<ImmutableArray<KeepOut>>.Bad>(KeepOut.Parse(text)).Problems[0].What, StringComparison.Ordinal);

    private static ImmutableArray<PlacedMark> Marks(double range) =>
        MarkPlan.Marks(Shipped.Procedure("plate").AllSteps.OfType<Step.Read>().Select(read => read.Grid).OfType<Grid.Distances>().Single(), Heron, range);

    private static double Distance(ImmutableArray<PlacedMark> marks, string from, string to)
    {
        var (a, b) = (marks.Single(mark => mark.Name == from), marks.Single(mark => mark.Name == to));
        return Math.Sqrt(Math.Pow(a.XMm - b.XMm, 2) + Math.Pow(a.YMm - b.YMm, 2));
    }

    [GeneratedRegex(@"^(G21 G90 G17 G94|G0( [XYZ]-?[0-9.]+)+|G1( [XYZ]-?[0-9.]+)+ F[0-9.]+|G[23] X-?[0-9.]+ Y-?[0-9.]+ I-?[0-9.]+ J-?[0-9.]+ F[0-9.]+)$")]
    private static partial Regex Motion();
}
