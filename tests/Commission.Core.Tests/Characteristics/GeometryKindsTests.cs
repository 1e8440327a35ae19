using Commission.Core.Instruments;
using System.Globalization;

namespace Commission.Core.Tests.Characteristics;

/// <summary>Squareness from distances, flatness, test cut, test circle.</summary>
public sealed class GeometryKindsTests
{
    private const string Header = "x1_mm,y1_mm,x2_mm,y2_mm,distance_mm\n";

    [Fact]
    public void The_worked_network_is_reproduced()
    {
        // Metrology 18.10 c, 300 x 200: bottom, top, left, right, two diagonals. The note prints the linear form (481.4, -518.6 ppm,
        // 2.25347 mrad, s .057486); the exact least squares here was computed apart, in plain floating point with normal equations.
        var finding = Fit.Of("squareness", Header + "0,0,300,0,300.15\n0,200,300,200,300.21\n0,0,0,200,199.90\n300,0,300,200,199.94\n0,0,300,200,360.95\n300,0,0,200,360.20\n");

        Assert.Equal(481.58506655e-6, finding.Value("scaleErrorX"), 1e-12);
        Assert.Equal(-518.29658952e-6, finding.Value("scaleErrorY"), 1e-12);
        Assert.Equal(2.254212533e-3, finding.Value("squareness"), 1e-11);
        Assert.Equal(.05740792054, finding.ResidualStandardDeviation!.Value, 1e-10);
        Assert.InRange(finding.Value("squareness") - 2.25347e-3, -0.9e-6, 0.9e-6);
        Assert.Equal(244.3e-6, finding.U("squareness"), 1e-6);
        Assert.Equal(109.6e-6, finding.U("scaleErrorX"), 0.5e-6);
        Assert.Equal(187.0e-6, finding.U("scaleErrorY"), 0.5e-6);
    }

    [Fact]
    public void Two_diagonals_give_squareness_alone_and_the_rest_is_told_in_words()
    {
        // Metrology 18.10 f: 600 x 400 with 2 mrad has diagonals 721.7755880 and 720.4443078.
        var finding = Fit.Of("squareness", Header + "0,0,600,400,721.7755880\n600,0,0,400,720.4443078\n");

        Assert.Equal(2e-3, finding.Value("squareness"), 8);
        Assert.Null(finding.Parameter("scaleErrorX")!.Value);
        Assert.Contains("apart", finding.Parameter("scaleErrorX")!.WhyNoUncertainty!, StringComparison.Ordinal);
    }

    [Fact]
    public void Sides_alone_do_not_determine_squareness() =>
        Assert.IsType<Outcome<Finding>.Bad>(Fit.Try("squareness", Header + "0,0,300,0,300.1\n0,0,0,200,200.1\n"));

    [Theory]
    // Strain rosettes are the same equation (mechanics of materials): public worked examples of 60 and 0/45/90 degree rosettes, in micro-strain.
    [InlineData("0:800 60:-200 120:625", 800, 16.67, -952.63)]
    [InlineData("0:130 45:-110 90:140", 130, 140, -490)]
    [InlineData("3:130 51:-110 96:140", 154.348, 91.225, -462.557)]
    public void Three_directions_solve_as_strain_rosettes_do(string gauges, double ex, double ey, double g)
    {
        // Short lengths of strain: a thousandth of the micro-strain keeps the exact model at its linear limit.
        const double small = 1e-9;
        var rows = gauges.Split(' ').Select(gauge => gauge.Split(':').Select(t => double.Parse(t, CultureInfo.InvariantCulture)).ToArray())
            .Select(p => (object[])[0, 0, 1000 * Math.Cos(p[0] * Math.PI / 180), 1000 * Math.Sin(p[0] * Math.PI / 180), 1000 * (1 + p[1] * small)]);
        var finding = Fit.Of("squareness", Fit.Rows(Header.Trim(), rows));

        Assert.Equal(ex, finding.Value("scaleErrorX") / small, 0.01);
        Assert.Equal(ey, finding.Value("scaleErrorY") / small, 0.01);
        Assert.Equal(g, finding.Value("squareness") / small, 0.01);
    }

    [Fact]
    public void A_zero_error_of_the_tape_leaves_squareness_untouched()
    {
        // Metrology 4.2: shear is untouched by an unknown zero offset.
        const string csv = Header + "0,0,600,0,600.1\n0,400,600,400,600.3\n0,0,0,400,400.1\n600,0,600,400,400.0\n0,0,600,400,721.4\n600,0,0,400,720.9\n";
        var plain = Fit.Of("squareness", csv);
        var loose = Fit.Of("squareness", csv, Fit.With(1e-9, null, ("zero-sd-mm", 10)));

        Assert.Equal(plain.Value("squareness"), loose.Value("squareness"), 2e-6);
        Assert.True(loose.U("scaleErrorX") > 1.5 * plain.U("scaleErrorX"));
    }

    [Fact]
    public void The_quadrilateral_of_the_reference_folder_has_its_angle()
    {
        // shared/reference/geometry/quadrilateral_network (constructed, 40 digits): the general corner has one parameter more than
        // two scales and one angle; the parallelogram through the same distances lies within its residuals.
        var finding = Fit.Of("squareness", Header + "0,0,600,0,599.82\n600,0,600,900,899.75\n600,900,0,900,600.15\n0,900,0,0,900.3\n0,0,600,900,1081.1\n600,0,0,900,1082.55\n");

        // Angle BAD is 90 degrees and 242.7 arc seconds there, with standard uncertainty 0.0020 x 0.147 = 0.0003 rad.
        Assert.InRange(finding.Value("squareness"), -242.74 / 206265 - 3e-4, -242.74 / 206265 + 3e-4);
    }

    [Fact]
    public void The_worked_plane_is_reproduced()
    {
        // Metrology 18.10 g (regression).
        double[] z = [.00, .12, .05, .10, .31, .18, .22, .36, .41];
        var finding = Fit.Of("flatness", Fit.Rows("x_mm,y_mm,z_mm", z.Select((v, i) => (object[])[i % 3 * 300, i / 3 * 200, v])));

        Assert.Equal(.183333, finding.Value("peakToValley"), 6);
        Assert.Equal(.175, finding.Value("minimumZone"), 9);
        Assert.Equal(.41, finding.Value("rawRange"), 12);
        Assert.Equal(1.77778e-4, finding.Value("slopeX"), 9);
        Assert.Equal(6.83333e-4, finding.Value("slopeY"), 9);
    }

    [Fact]
    public void The_plane_of_the_reference_folder_is_reproduced()
    {
        // shared/reference/geometry/plane_3x3 (constructed, exact rational arithmetic; minimum zone by linear programming).
        var rows = File.ReadAllLines(Path.Combine(Reference.Folder, "geometry", "plane_3x3.csv")).Where(l => l.Length > 0).Skip(1).Select(l => l.Split(','));
        var finding = Fit.Of("flatness", Fit.Rows("x_mm,y_mm,z_mm", rows.Select(r => (object[])[r[^3], r[^2], r[^1]])));

        Assert.Equal(0.0966666666666667, finding.Value("peakToValley"), 12);
        Assert.Equal(0.085, finding.Value("minimumZone"), 12);
        Assert.Equal(0.000155555555555556, finding.Value("slopeX"), 12);
        Assert.Equal(0.0362092683040007, finding.ResidualStandardDeviation!.Value, 12);
    }

    [Fact]
    public void The_zone_of_many_points_from_a_working_set_equals_that_of_all_subsets()
    {
        for (var seed = 1; seed <= 5; seed++)
        {
            var random = new Random(seed);
            HeightPoint[] few = [.. Enumerable.Range(0, 49).Select(i => new HeightPoint(i % 7 * 80, i / 7 * 60, random.NextDouble()))];
            // Points well inside the zone change nothing, and push the count over the limit of the exhaustive way.
            HeightPoint[] many = [.. few, .. Enumerable.Range(0, 40).Select(i => new HeightPoint(20 + i * 11, 15 + i * 8, 0.5))];

            Assert.Equal(Zone(few), Zone(many), 6);
        }
    }

    private static double Zone(HeightPoint[] points) => MinimumZone.Of(points).Sum(touched => touched.Weight * points[touched.Point].Z);

    [Fact]
    public void A_bump_in_a_tilted_plane_of_many_points_is_not_missed()
    {
        var points = Enumerable.Range(0, 100).Select(i => new HeightPoint(i % 10 * 50, i / 10 * 50, 1e-3 * (i % 10 * 50) + (i == 44 ? 0.1 : 0))).ToArray();

        Assert.Equal(0.1, Zone(points), 6);
    }

    [Fact]
    public void Flatness_from_repeated_points_has_the_uncertainty_that_repetition_shows()
    {
        // Own mathematics: two corners 0.2 mm up and two down, every point probed three times; scatter 0.01 mm.
        (double X, double Y, double Z)[] shape = [(0, 0, .1), (300, 0, -.1), (0, 300, -.1), (300, 300, .1), (150, 150, 0)];
        var random = new Random(4);
        double Probed(double z) => z + 0.01 * Commission.Core.Quantities.StandardNormal.Quantile(random.NextDouble() * (1 - 2e-12) + 1e-12);
        List<double> found = [], claimed = [];
        for (var run = 0; run < 300; run++)
        {
            var rows = Enumerable.Repeat(shape, 3).SelectMany(s => s).Select(p => (object[])[p.X, p.Y, Probed(p.Z)]);
            var finding = Fit.Of("flatness", Fit.Rows("x_mm,y_mm,z_mm", rows));
            found.Add(finding.Value("minimumZone"));
            claimed.Add(finding.U("minimumZone"));
        }

        var mean = found.Average();
        var spread = Math.Sqrt(found.Average(f => (f - mean) * (f - mean)));
        Assert.InRange(mean, 0.195, 0.205);
        Assert.InRange(Math.Sqrt(claimed.Average(u => u * u)) / spread, 0.85, 1.15);
    }

    [Fact]
    public void A_map_whose_repeats_agree_does_not_say_that_no_point_was_probed_twice()
    {
        double[] z = [.00, .12, .05, .10, .31, .18, .22, .36, .41, .00];
        var map = Fit.Of("flatness", Fit.Rows("x_mm,y_mm,z_mm", z.Select((v, i) => (object[])[i % 9 % 3 * 300, i % 9 / 3 * 200, v])));

        Assert.Contains(map.Remarks, remark => remark.StartsWith("What was probed twice agrees to the last digit", StringComparison.Ordinal));
        Assert.DoesNotContain(map.Remarks, remark => remark.StartsWith("No point was probed twice", StringComparison.Ordinal));
    }

    [Fact]
    public void Flatness_carries_the_covariance_of_its_parameters()
    {
        var random = new Random(9);
        var finding = Fit.Of("flatness", Fit.Rows("x_mm,y_mm,z_mm", Enumerable.Range(0, 25).Select(i => (object[])[i % 5 * 100, i / 5 * 100, Math.Round(random.NextDouble() * 0.1, 3)])));

        Assert.Equal(finding.Parameters.Length, finding.Covariance.Length);
        for (var i = 0; i < finding.Parameters.Length; i++)
            Assert.Equal(finding.Parameters[i].StandardUncertainty!.Value, Math.Sqrt(finding.Covariance[i][i]), 9);
    }

    [Fact]
    public void The_minimum_zone_is_never_larger_than_the_range_about_any_plane()
    {
        var random = new Random(11);
        var points = Enumerable.Range(0, 100).Select(i => new HeightPoint(i % 10 * 50, i / 10 * 50, random.NextDouble() + 1e-5 * Math.Pow(i % 10 - 5, 2))).ToArray();
        var zone = Zone(points);

        Assert.InRange(zone, 0.8, points.Max(p => p.Z) - points.Min(p => p.Z));
    }

    [Fact]
    public void Outsides_and_insides_part_scale_from_the_cutter()
    {
        // Metrology 10.1: m = (1 + e) L -/+ 2 rho outside/inside; e 500 ppm, rho 0.05.
        var rows = new[] { 20, 50, 100 }.SelectMany(l => new object[][]
        {
            ["X", l, "outside", l * 1.0005 - 0.1], ["X", l, "inside", l * 1.0005 + 0.1], ["Y", l, "outside", l * 0.9998 - 0.1], ["Y", l, "inside", l * 0.9998 + 0.1],
        });
        var finding = Fit.Of("test-cut", Fit.Rows("axis,nominal_mm,side,measured_mm", rows));

        Assert.Equal(500e-6, finding.Value("scaleErrorX"), 10);
        Assert.Equal(-200e-6, finding.Value("scaleErrorY"), 10);
        Assert.Equal(0.05, finding.Value("cutterRadiusError"), 9);
    }

    [Fact]
    public void Circles_cut_both_ways_part_squareness_from_lost_motion()
    {
        // Metrology 10.3: ccw D45 - D135 = D g + sqrt2 (BX - BY) in lost motions, cw the opposite sign; here BX 0.10 and BY 0.03 are lost.
        var (d, g, e, lost) = (120.0, 1e-3, 4e-4, Math.Sqrt(2) * 0.07);
        var finding = Fit.Of("test-circle", Fit.Rows("angle_deg,turning,diameter_mm",
        [
            [0, "ccw", d + d * e / 2], [45, "ccw", d + d * g / 2 + lost / 2], [90, "ccw", d - d * e / 2], [135, "ccw", d - d * g / 2 - lost / 2],
            [0, "cw", d + d * e / 2], [45, "cw", d + d * g / 2 - lost / 2], [90, "cw", d - d * e / 2], [135, "cw", d - d * g / 2 + lost / 2],
        ]), Fit.With(1e-9, null, ("nominal-mm", d)));

        Assert.Equal(g, finding.Value("squareness"), 10);
        Assert.Equal(e, finding.Value("scaleDifference"), 10);
        Assert.Equal(-0.07, finding.Value("reversalDifference"), 9);
    }

    [Fact]
    public void One_circle_cannot_tell_squareness_from_lost_motion()
    {
        var finding = Fit.Of("test-circle", "angle_deg,turning,diameter_mm\n0,cw,120\n45,cw,120.1\n90,cw,120\n135,cw,119.9\n", Fit.With(1e-9, null, ("nominal-mm", 120)));

        Assert.Null(finding.Headline.Value);
        Assert.Contains("other way", finding.Headline.WhyNoUncertainty!, StringComparison.Ordinal);
    }

    [Fact]
    public void A_ladder_reports_the_rung_below_the_first_loss_and_counts_teeth()
    {
        var finding = Fit.Of("speed-ladder", "speed_mm_min,offset_mm\n1000,.002\n1150,-.001\n1320,.1\n1520,.2\n1750,.001\n",
            Fit.With(0.01) with { TravelPerTurnMm = 5 });

        Assert.Equal(1150, finding.Value("limit"));
        Assert.Equal(0.1, finding.Value("quantum"), 12);
        Assert.Contains(finding.Remarks, r => r.Contains("stalled", StringComparison.Ordinal));
        Assert.Contains(finding.Remarks, r => r.Contains("resonance", StringComparison.Ordinal));
        Assert.Contains(Fit.Of("speed-ladder", "speed_mm_min,offset_mm\n1000,.002\n1150,.1\n", Fit.With(0.1) with { TravelPerTurnMm = 10 }).Remarks,
            r => r.Contains("not decidable", StringComparison.Ordinal) || r.Contains("beyond", StringComparison.Ordinal));
    }

    [Fact]
    public void Losses_that_are_no_whole_teeth_are_a_fault_to_find_and_no_speed_to_set()
    {
        // A tooth is 0.1 mm; half of one is no stall, with a dial that is good to 0.002 mm.
        var finding = Fit.Of("speed-ladder", "speed_mm_min,offset_mm\n750,0\n870,-.001\n1000,.001\n1150,.001\n1320,.155\n", Fit.With(0.004) with { TravelPerTurnMm = 5 });

        Assert.Equal(AdviceAction.FindTheFault, finding.Advice.Action);
        Assert.Contains("no lower speed cures that", finding.Advice.Because, StringComparison.Ordinal);
        Assert.DoesNotContain(finding.Remarks, remark => remark.Contains("olerance", StringComparison.Ordinal));
    }

    [Fact]
    public void An_axis_that_comes_back_less_well_than_the_hand_reads_tells_no_slip_from_a_tenth_of_a_tooth()
    {
        var finding = Fit.Of("speed-ladder", "speed_mm_min,offset_mm\n750,.004\n870,-.007\n1000,.006\n1150,-.003\n1320,.09\n",
            Fit.With(0.004) with { TravelPerTurnMm = 5, Hand = new HandStudy("M", "dial", 0.003, 14) });

        Assert.Equal(AdviceAction.Change, finding.Advice.Action);
        Assert.DoesNotContain(finding.Remarks, remark => remark.Contains("something slips", StringComparison.Ordinal));
    }
}
