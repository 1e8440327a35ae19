using Commission.Core.History;
using Commission.Core.Quantities;
using Commission.Core.Tests.History;
using Commission.Core.Upkeep;

namespace Commission.Core.Tests.Upkeep;

public sealed class WorkAreaTests
{
    private static readonly Machine Heron = new() { Name = "Heron", TravelMm = [420, 580, 90], Class = WorkClass.Plastics };

    private static EntryBody.FindingMade Found(string kind, string? axis, string? instrument, params (string Name, string Unit, double Value, double U)[] parameters)
    {
        var made = LedgerTests.Found(kind, axis);
        return made with
        {
            Instrument = instrument,
            Finding = made.Finding with
            {
                Parameters = [.. parameters.Select(p => new FittedParameter { Name = p.Name, Unit = p.Unit, Value = p.Value, StandardUncertainty = p.U, FreshUncertainty = p.U, SharedUncertainty = 0 })],
            },
        };
    }

    private static Ledger Ledger(params EntryBody[] bodies) => Core.History.Ledger.From(LedgerTests.Chain([new EntryBody.MachineDescribed(Heron, false) { Machine = "Heron" }, .. bodies]));

    private static EntryBody.FindingMade Scale(string axis, double value, double u = 100e-6, string? instrument = "caliper") => Found("axis-scale", axis, instrument, ("scaleError", "1", value, u));

    [Fact]
    public void The_vector_at_a_corner_and_its_uncertainty_are_those_of_the_note()
    {
        // Own arithmetic: ex 300, ey -100 ppm, g 500 urad at (600, 400): (0.38, -0.04) mm; u 100, 141, 300: (0.134, 0.057) mm.
        var covariance = new double[7, 7];
        (covariance[0, 0], covariance[1, 1], covariance[2, 2]) = (1e-8, 141e-6 * 141e-6, 9e-8);
        var area = WorkArea.Of(new PlaneKnowledge([300e-6, -100e-6, 500e-6, 0, 0, 0, 0], covariance), 600, 400, 0.5);

        Assert.Equal((600, 400), area.Corner);
        Assert.Equal(0.38, area.Vector!.Value.X, 1e-9);
        Assert.Equal(-0.04, area.Vector.Value.Y, 1e-9);
        Assert.Equal(0.134, area.VectorUncertainty!.Value.X, 5e-4);
        Assert.Equal(0.057, area.VectorUncertainty.Value.Y, 7e-4);
        Assert.Equal(Math.Sqrt((0.38 * 0.38) + (0.04 * 0.04)), area.ErrorMm!.Value, 1e-9);
        Assert.Equal(2 * 0.1342, area.ExpandedMm!.Value, 2e-4);
        Assert.Equal(Verdict.Undecided, area.Verdict);
    }

    [Fact]
    public void Half_the_lost_motion_and_the_amplitude_within_a_turn_are_counted_at_the_worst_corner()
    {
        // Our own score of a machine: hypot(|ex x + g y| + |Bx|/2, |ey y| + |By|/2) at its largest.
        var area = WorkArea.Of(new PlaneKnowledge([400e-6, 200e-6, -600e-6, -0.1, -0.06, 0.01, 0], new double[7, 7]), 400, 500, null);

        Assert.Equal((0, 500), area.Corner);
        Assert.Equal(Math.Sqrt(Math.Pow(0.3 + 0.05 + 0.01, 2) + Math.Pow(0.1 + 0.03, 2)), area.ErrorMm!.Value, 1e-12);
        Assert.Equal(Verdict.None, area.Verdict);
    }

    [Fact]
    public void Heron_has_a_limit_of_0_40_mm_at_the_worst_corner() =>
        Assert.Equal(0.40, WorkArea.ClassLimit(WorkClass.Plastics, 420, 580), 0.005);

    [Fact]
    public void The_figure_names_what_was_never_measured_and_gives_no_number()
    {
        var area = WorkArea.Of(Ledger(Scale("X", 1e-4)), Heron);

        Assert.Null(area.ErrorMm);
        Assert.Contains("scale of Y", area.Missing);
        Assert.Contains("squareness of X and Y", area.Missing);
        Assert.DoesNotContain("scale of X", area.Missing);
    }

    [Fact]
    public void A_written_setting_takes_the_scale_out_of_force_until_it_is_measured_again()
    {
        EntryBody[] all = [Scale("X", 1e-3), Scale("Y", 2e-4), Found("squareness", null, "tape", ("squareness", "rad", 4e-4, 1e-4))];
        var written = new EntryBody.SettingWritten { Machine = "Heron", Name = "stepsPerMm", Axis = "X", Before = 320, After = 319.68, ReadBack = 319.68, Stage = "read-back" };

        Assert.NotNull(WorkArea.Of(Ledger(all), Heron).ErrorMm);
        // Found by use: a corner without the lost motions stood there as if it were the whole.
        Assert.EndsWith(", 4 missing", WorkArea.Of(Ledger(all), Heron).Short(ShownUnits.Millimetres), StringComparison.Ordinal);
        Assert.Null(WorkArea.Of(Ledger([.. all, written]), Heron).ErrorMm);
        var again = WorkArea.Of(Ledger([.. all, written, Scale("X", 5e-5)]), Heron);
        Assert.Equal((5e-5 * 420) + (4e-4 * 580), again.Vector!.Value.X, 1e-12);
    }

    [Fact]
    public void Agreeing_results_of_two_instruments_are_combined_in_the_figure()
    {
        var area = WorkArea.Of(Ledger(Scale("X", 1e-4), Scale("X", 3e-4, instrument: "rod"), Scale("Y", 0), Found("squareness", null, "tape", ("squareness", "rad", 0, 1e-6))), Heron);
        Assert.Equal(2e-4 * 420, area.Vector!.Value.X, 1e-9);
    }

    private static EntryBody.FindingMade Squareness(double value, double u) => Found("squareness", null, "tape", ("squareness", "rad", value, u));

    // A rod found X 1555 ppm too far with U 26; diagonals by tape, later, -600 with U 1700: the tape is no reason to measure X again.
    [Fact]
    public void Of_results_that_contradict_each_other_the_one_with_the_least_U_stands_in_the_figure_and_is_named()
    {
        var tape = Found("squareness", null, "tape", ("squareness", "rad", 0, 1e-5), ("scaleErrorX", "1", -600e-6, 850e-6));
        var area = WorkArea.Of(Ledger(Scale("X", 1555e-6, 13e-6, "rod"), Scale("Y", 0, 10e-6), tape), Heron);

        Assert.Equal(1555e-6 * 420, area.Vector!.Value.X, 1e-9);
        Assert.Equal("scale of X", Assert.Single(area.Disputed).Quantity.Title);
        Assert.Contains("The results of scale of X do not agree", area.Sentence, StringComparison.Ordinal);
        Assert.Contains("the one with the least U, axis scale with rod", area.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void The_verdict_is_withheld_where_another_of_contradicting_results_gives_another_one()
    {
        // Limit 0.40 mm; the plate's 0.2 mrad over 580 mm is far within, the circles' 1 mrad is 0.58 mm: outside.
        EntryBody[] rest = [Scale("X", 0, 1e-6), Scale("Y", 0, 1e-6), Found("plate", null, "caliper", ("squareness", "rad", 2e-4, 2e-5))];
        var alone = WorkArea.Of(Ledger(rest), Heron);
        Assert.Equal((Verdict.Within, false), (alone.Verdict, alone.Withheld));

        var area = WorkArea.Of(Ledger([.. rest, Found("test-circle", null, "caliper", ("squareness", "rad", 1e-3, 5e-5))]), Heron);
        Assert.Equal((Verdict.Undecided, true), (area.Verdict, area.Withheld));
        Assert.Contains("The verdict is withheld", area.Sentence, StringComparison.Ordinal);
        Assert.Equal("worst corner: no verdict, results of squareness of X and Y do not agree", area.Short(ShownUnits.Millimetres));

        // Both 0.2 and 0.3 mrad are within: it does not matter which of them is wrong.
        var small = WorkArea.Of(Ledger([.. rest, Found("test-circle", null, "caliper", ("squareness", "rad", 3e-4, 2e-5))]), Heron);
        Assert.Equal((Verdict.Within, false), (small.Verdict, small.Withheld));
        Assert.Contains("same whichever of them is taken", small.Sentence, StringComparison.Ordinal);
    }

    // The corner with the largest estimate is known well and within; the one beside it is hardly known.
    [Fact]
    public void All_four_corners_are_judged_and_the_worst_is_the_one_whose_error_may_reach_farthest()
    {
        var covariance = new double[7, 7];
        (covariance[0, 0], covariance[2, 2]) = (1e-12, Math.Pow(0.395 / 580, 2));
        var area = WorkArea.Of(new PlaneKnowledge([0.658 / 420, 0, -0.64 / 580, 0, 0, 0, 0], covariance), 420, 580, 0.857);

        Assert.Equal(Verdict.Within, area.Corners.Single(corner => corner.At == (420, 0)).Verdict);
        Assert.Equal(Verdict.Undecided, area.Verdict);
        Assert.Equal((0, 580), area.Corner);
        Assert.Equal(0.64, area.ErrorMm!.Value, 1e-9);
        Assert.Equal(0.79, area.ExpandedMm!.Value, 1e-9);
        Assert.Equal(4, area.Corners.Length);
    }

    [Fact]
    public void One_corner_outside_makes_the_work_area_outside_though_another_may_reach_farther()
    {
        var covariance = new double[7, 7];
        (covariance[0, 0], covariance[2, 2]) = (1e-12, Math.Pow(0.5 / 580, 2));
        var area = WorkArea.Of(new PlaneKnowledge([0.9 / 420, 0, -0.4 / 580, 0, 0, 0, 0], covariance), 420, 580, 0.857);

        Assert.Equal((Verdict.Outside, (420, 0)), (area.Verdict, area.Corner));
    }

    [Fact]
    public void A_square_that_stands_on_the_bed_tells_nothing_about_the_plane_of_X_and_Y()
    {
        var upright = Found("square-reversal", null, "indicator", ("squareness", "rad", 5e-3, 1e-5)) with { Place = "YZ" };
        var area = WorkArea.Of(Ledger(Scale("X", 0), Scale("Y", 0), Squareness(1e-4, 1e-4), upright), Heron);

        Assert.Empty(area.Disputed);
        Assert.Equal(1e-4 * 580, area.Vector!.Value.X, 1e-9);
    }
}
