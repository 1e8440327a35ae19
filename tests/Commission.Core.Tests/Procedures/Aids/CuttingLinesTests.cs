using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Instruments;
using Commission.Core.Procedures;
using Commission.Core.Procedures.Aids;
using Commission.Tests;
using CsCheck;

namespace Commission.Core.Tests.Procedures.Aids;

/// <summary>Lines for the machine, run through a small reader of ISO 6983 that keeps book of the tool: where it goes, how deep, how fast, and whether it crosses the work in a rapid move.</summary>
public sealed class CuttingLinesTests
{
    private static readonly Gen<LengthUnit> Units = Gen.Bool.Select(inch => inch ? LengthUnit.Inch : LengthUnit.Millimetre);

    // Rounding of a line: 0.001 mm, or 0.0001 in.
    private const double Rounded = 0.0026;

    [Fact]
    public void A_surfacing_plan_stays_in_the_travel_cuts_to_the_depth_asked_for_in_layers_of_a_millimetre_and_reaches_every_place() =>
        Gen.Select(Gen.Double[6, 80], Gen.Double[0.1, 10], Gen.Double[50, 10_000], Units).SampleFixed((cutter, depth, feed, units) =>
        {
            var path = Path("surface-board", units, ("cutter-mm", cutter), ("depth-mm", depth), ("feed-mm-min", feed));
            Assert.True(path.Lowest >= -depth - Rounded && path.Lowest <= -depth + Rounded, $"{path.Lowest} for {depth}");
            Assert.True(path.Within(2, 2, 418, 578), path.Extent);
            Assert.True(path.LargestFeed <= feed * 1.01 + 0.3);
            Assert.False(path.RapidInTheWork);
            Assert.All(path.Floors.Zip(path.Floors.Skip(1)), pair => Assert.True(pair.First - pair.Second <= 1 + Rounded));

            // Neighbouring lines overlap: no strip is left standing.
            var across = path.CutsAlongX.Distinct().Order().ToArray();
            Assert.All(across.Zip(across.Skip(1)), pair => Assert.True(pair.Second - pair.First <= (0.4 * cutter) + (2 * Rounded)));
            Assert.Equal(2, across[0], 2 * Rounded);
            Assert.Equal(578, across[^1], 2 * Rounded);
        }, iter: 40);

    [Fact]
    public void A_surfacing_cutter_is_never_driven_straight_into_the_board_but_along_a_slope_of_one_in_twenty() =>
        Gen.Select(Gen.Double[6, 80], Gen.Double[0.1, 10], Units).SampleFixed((cutter, depth, units) =>
        {
            var path = Path("surface-board", units, ("cutter-mm", cutter), ("depth-mm", depth), ("feed-mm-min", 1500));
            Assert.True(path.StraightIntoMm <= Rounded, path.StraightIntoMm.ToString(CultureInfo.InvariantCulture));
            Assert.NotEmpty(path.Ramps);
            Assert.All(path.Ramps, ramp => Assert.True(ramp.Down <= (ramp.Along / 20) + (2 * Rounded), ramp.ToString()));
        }, iter: 40);

    // Worked out by hand: 0.6 mm in one layer, so 12 mm of ramp at half the speed, back over it, then the line.
    [Fact]
    public void The_first_line_of_a_surfacing_plan_stands_as_worked_out() => Assert.Equal(
        ["G21 G90 G17 G94", "G0 Z5", "G0 X2 Y2", "G1 Z0 F500", "G1 X14 Y2 Z-0.6 F1000", "G1 X2 Y2 F2000", "G1 X418 Y2 F2000", "G0 Z5"],
        Made("surface-board", LengthUnit.Millimetre, 150, ("cutter-mm", 22), ("depth-mm", 0.6), ("feed-mm-min", 2000)).Single().Lines.Take(8));

    [Fact]
    public void Holes_of_a_plate_lie_in_its_sheet_are_as_deep_as_asked_and_plunged_at_the_feed_asked_for() =>
        Gen.Select(Gen.Double[0.2, 50], Gen.Double[10, 5000], Gen.Double[100, 400], Units).SampleFixed((depth, feed, range, units) =>
        {
            var path = Path("drill-plate", units, range, ("depth-mm", depth), ("feed-mm-min", feed));
            Assert.Equal(-depth, path.Lowest, Rounded);
            Assert.False(path.RapidInTheWork);
            Assert.False(path.CutsSideways);
            Assert.Equal(8, path.Plunges);
            Assert.True(path.LargestPlunge <= (feed * 1.01) + 0.3);
            var factor = MarkPlan.Factor(new MarkSheet(200, 150, 150), Machine(units), range);
            Assert.True(path.Within(-5, -5, (200 * factor) + 5, (150 * factor) + 5), path.Extent);
        }, iter: 60);

    [Fact]
    public void The_coupon_is_cut_no_deeper_than_half_the_cutter_in_grooves_that_stay_in_its_square() =>
        Gen.Select(Gen.Double[3, 8], Gen.Double[50, 5000], Units).SampleFixed((cutter, feed, units) =>
        {
            foreach (var path in Paths("cut-coupon", units, 150, ("cutter-mm", cutter), ("feed-mm-min", feed)))
            {
                Assert.InRange(path.Lowest, -Math.Min(4, cutter / 2) - Rounded, -Math.Min(4, cutter / 2) + Rounded);
                Assert.False(path.RapidInTheWork);
                Assert.True(path.LargestFeed <= (feed * 1.01) + 0.3);
                Assert.True(path.LargestPlunge <= (feed / 3 * 1.01) + 0.3);
                var half = 50 + (cutter / 2) + 0.2 + Rounded;
                Assert.True(path.Within(-half, -half, half, half), path.Extent);
                Assert.True(path.LargestArcError < 2 * Rounded, path.LargestArcError.ToString(CultureInfo.InvariantCulture));
            }
        }, iter: 60);

    [Fact]
    public void Insert_holes_are_drilled_where_the_table_says_and_nowhere_else() =>
        Gen.Select(Gen.Double[20, 300], Gen.Double[1, 80], Gen.Double[10, 5000], Units).SampleFixed((pitch, cutter, feed, units) =>
        {
            var data = Made("insert-grid", units, 150, ("pitch-mm", pitch), ("cutter-mm", cutter), ("insert-mm", 8), ("feed-mm-min", feed));
            var unit = units == LengthUnit.Inch ? 25.4 : 1;
            var table = data[0].Lines.Skip(1).Select(row => row.Split(',')).Select(row => (X: Number(row[1]) * unit, Y: Number(row[2]) * unit)).ToArray();
            var path = ToolPath.Of(data[1].Lines);
            Assert.Equal(table.Length, path.Holes.Count);
            Assert.All(table.Zip(path.Holes), pair => Assert.True(Math.Abs(pair.First.X - pair.Second.X) < Rounded && Math.Abs(pair.First.Y - pair.Second.Y) < Rounded));
            var margin = (cutter / 2) + 5 - Rounded;
            Assert.True(path.Within(margin, margin, 420 - margin, 580 - margin), path.Extent);
            Assert.Equal(-12, path.Lowest, Rounded);
            Assert.False(path.RapidInTheWork);
            Assert.False(path.CutsSideways);
        }, iter: 60);

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static Machine Machine(LengthUnit units) => Shipped.MachineFor(Shipped.Procedure("plate")) with { Units = units };

    private static ImmutableArray<WorkData> Made(string kind, LengthUnit units, double range, params (string Name, double Value)[] with)
    {
        var numbers = with.ToDictionary(pair => pair.Name, pair => pair.Value);
        var setting = new RunSetting { Machine = Machine(units), Instrument = new Instrument("c", InstrumentKind.CaliperDigital, 0.03, 0.01, range, "invented") };
        return DataKinds.Find(kind)!.Make(new DataRequest(Shipped.Procedure("plate"), setting.Machine, setting, name => numbers.TryGetValue(name, out var value) ? value : null, _ => null)).Require();
    }

    private static IEnumerable<ToolPath> Paths(string kind, LengthUnit units, double range, params (string Name, double Value)[] with) =>
        Made(kind, units, range, with).Where(data => data.Name.EndsWith(".txt", StringComparison.Ordinal)).Select(data => ToolPath.Of(data.Lines));

    private static ToolPath Path(string kind, LengthUnit units, params (string Name, double Value)[] with) => Paths(kind, units, 150, with).Single();

    private static ToolPath Path(string kind, LengthUnit units, double range, params (string Name, double Value)[] with) => Paths(kind, units, range, with).Single();
}

/// <summary>Book kept of a tool that follows lines of ISO 6983, in mm whatever they are written in.</summary>
internal sealed class ToolPath
{
    private double x, y, z = double.NaN;

    public double Lowest { get; private set; } = double.PositiveInfinity;

    public double LargestFeed { get; private set; }

    public double LargestPlunge { get; private set; }

    public double LargestArcError { get; private set; }

    /// <summary>Whether a rapid move went sideways, or downwards below the face, while the tool was in the work.</summary>
    public bool RapidInTheWork { get; private set; }

    /// <summary>Whether a slow move went sideways while the tool was in the work.</summary>
    public bool CutsSideways { get; private set; }

    public int Plunges { get; private set; }

    /// <summary>How far a move straight down went below what was cut along that line before, at most.</summary>
    public double StraightIntoMm { get; private set; }

    /// <summary>Slow moves that went down and sideways at once.</summary>
    public List<(double Down, double Along)> Ramps { get; } = [];

    private Dictionary<double, double> CutDownTo { get; } = [];

    /// <summary>Depths at which cuts were made, in order, each new one once.</summary>
    public List<double> Floors { get; } = [0];

    public List<(double X, double Y)> Holes { get; } = [];

    public List<double> CutsAlongX { get; } = [];

    private (double Left, double Near, double Right, double Far) Reached { get; set; } = (double.PositiveInfinity, double.PositiveInfinity, double.NegativeInfinity, double.NegativeInfinity);

    public string Extent => Reached.ToString();

    public bool Within(double left, double near, double right, double far) =>
        Reached.Left >= left - 0.003 && Reached.Near >= near - 0.003 && Reached.Right <= right + 0.003 && Reached.Far <= far + 0.003;

    public static ToolPath Of(IEnumerable<string> lines)
    {
        var path = new ToolPath();
        var unit = 1.0;
        foreach (var line in lines)
        {
            var words = line.Split(' ').Select(word => (Letter: word[0], Value: double.Parse(word.AsSpan(1), CultureInfo.InvariantCulture))).ToArray();
            if (words.Length > 1 && words[1].Letter == 'G')
            {
                unit = words[0].Value == 20 ? 25.4 : 1;
                continue;
            }

            path.Follow((int)words[0].Value, words.Skip(1).ToDictionary(word => word.Letter, word => word.Value * unit));
        }

        return path;
    }

    private void Follow(int move, Dictionary<char, double> to)
    {
        var (nextX, nextY, nextZ) = (to.GetValueOrDefault('X', x), to.GetValueOrDefault('Y', y), to.GetValueOrDefault('Z', z));
        var sideways = nextX != x || nextY != y;
        var inTheWork = Math.Min(double.IsNaN(z) ? 0 : z, nextZ) < 0;
        if (move == 0)
            RapidInTheWork |= inTheWork && (sideways || nextZ < z);
        else
            Slow(move, to, (nextX, nextY, nextZ), sideways, inTheWork);
        (x, y, z) = (nextX, nextY, nextZ);
        Lowest = Math.Min(Lowest, z);
        if (to.ContainsKey('X'))
            Reached = (Math.Min(Reached.Left, x), Math.Min(Reached.Near, y), Math.Max(Reached.Right, x), Math.Max(Reached.Far, y));
    }

    private void Slow(int move, Dictionary<char, double> to, (double X, double Y, double Z) next, bool sideways, bool inTheWork)
    {
        if (next.Z < z)
        {
            LargestPlunge = Math.Max(LargestPlunge, to['F']);
            if (sideways)
                Ramps.Add((z - next.Z, Math.Sqrt(Math.Pow(next.X - x, 2) + Math.Pow(next.Y - y, 2))));
            else
                StraightIntoMm = Math.Max(StraightIntoMm, CutDownTo.GetValueOrDefault(y) - next.Z);
            if (!inTheWork || z >= 0)
            {
                Plunges++;
                if (Holes.Count == 0 || Holes[^1] != (x, y))
                    Holes.Add((x, y));
            }

            if (next.Z < Floors[^1])
                Floors.Add(next.Z);
        }

        if (sideways && inTheWork)
        {
            CutsSideways = true;
            LargestFeed = Math.Max(LargestFeed, to['F']);
            if (next.Y == y)
            {
                CutsAlongX.Add(y);
                CutDownTo[y] = Math.Min(CutDownTo.GetValueOrDefault(y), Math.Max(z, next.Z));
            }
        }

        if (move is 2 or 3)
        {
            var (middleX, middleY) = (x + to['I'], y + to['J']);
            var (before, after) = (Math.Sqrt(Math.Pow(x - middleX, 2) + Math.Pow(y - middleY, 2)), Math.Sqrt(Math.Pow(next.X - middleX, 2) + Math.Pow(next.Y - middleY, 2)));
            LargestArcError = Math.Max(LargestArcError, Math.Abs(before - after));
        }
    }
}
