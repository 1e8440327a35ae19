using Commission.Core.History;
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
}
