using System.Globalization;
using Commission.Core.Machines;
using Commission.Core.Suspects;

namespace Commission.Core.Characteristics;

/// <summary>Tells causes of lost position apart where the readings are fine enough, and says so where they are not.</summary>
internal static class Discriminator
{
    private const string NotDecidable = "not decidable with this instrument";

    // A likelihood ratio of ten either way counts as told.
    private static readonly double Told = Math.Log(10);

    /// <summary>The option that both tests share.</summary>
    public static OptionSpec StepAngle { get; } = new("step-angle-deg", true, "full step of the motor, 1.8 where not told");

    /// <summary>Travel of four full steps, mm: the rotor that fell out of step locks again one tooth away. Null where the travel for one turn is not known.</summary>
    public static double? Quantum(FitOptions options) => options.TravelPerTurnMm * 4 * FullStep(options) / 360;

    /// <summary>How far friction can leave the rotor behind, either way, at a fifth of the holding torque, mm. Null where the travel for one turn is not known.</summary>
    public static double? FrictionLag(FitOptions options) =>
        options.TravelPerTurnMm is { } travel ? StepperArithmetic.FrictionLag(travel, 0.2, 90 / FullStep(options)) : null;

    /// <summary>Log likelihood of losses in whole quanta against losses of any size; positive speaks for stalls (own derivation).</summary>
    /// <param name="offsets">Offsets that did not come back, mm.</param>
    /// <param name="quantum">Four full steps, mm.</param>
    /// <param name="uncertainty">Standard uncertainty of one offset, mm.</param>
    public static double StallEvidence(IEnumerable<double> offsets, double quantum, double uncertainty) => offsets.Sum(r =>
        Math.Log(quantum * Enumerable.Range(-3, 7).Sum(k => Quantities.StandardNormal.Density((r - quantum * (Math.Round(r / quantum) + k)) / uncertainty)) / uncertainty));

    /// <summary>Whether offsets that did not come back are, ten to one, no whole teeth of the rotor: then no speed cures them.</summary>
    /// <param name="offsets">The offsets, mm.</param>
    /// <param name="quantum">Four full steps, mm.</param>
    /// <param name="uncertainty">Standard uncertainty of one; null where it is not known.</param>
    public static bool Slips(IReadOnlyList<double> offsets, double quantum, double? uncertainty) =>
        uncertainty <= quantum / 8 && StallEvidence(offsets, quantum, uncertainty.Value) < -Told;

    /// <summary>What offsets that did not come back speak for.</summary>
    /// <param name="offsets">The offsets, mm.</param>
    /// <param name="quantum">Four full steps, mm.</param>
    /// <param name="uncertainty">Standard uncertainty of one; null where it is not known.</param>
    public static string Losses(IReadOnlyList<double> offsets, double quantum, double? uncertainty)
    {
        if (!(uncertainty <= quantum / 8))
            return $"Whether the motor stalled or something slipped is {NotDecidable}; an indicator that reads to an eighth of a tooth would tell.";
        var evidence = StallEvidence(offsets, quantum, uncertainty.Value);
        return evidence > Told ? "The losses are whole teeth of the rotor: the motor stalled or fell out of step."
            : Slips(offsets, quantum, uncertainty) ? "The losses are no whole teeth of the rotor: something slips, a grub screw, a coupling or a belt."
            : "The losses do not tell a stall from a slip; repeat the failing move.";
    }

    /// <summary>What else looks like play in a reversal test: pull, friction, lost steps; each with whether this test can see it.</summary>
    /// <param name="fit">The fit of the reversal test.</param>
    /// <param name="reversalFresh">Fresh standard uncertainty of the mean reversal value, mm; null where none is known.</param>
    /// <param name="options">Drive and motor.</param>
    public static IEnumerable<string> Reversal(LinearResult fit, double? reversalFresh, FitOptions options)
    {
        yield return "Clearance gives the same value at every pulling force and moves freely by hand while the motor holds; elastic wind-up grows with the force, which the stiffness test shows.";
        if (FrictionLag(options) is not { } lag || Quantum(options) is not { } quantum || fit.Scatter is not { } scatter)
            yield break;
        yield return string.Create(CultureInfo.InvariantCulture, $"Friction can leave the rotor up to {lag:0.0000} mm behind either way, which is no play; ")
            + (reversalFresh <= lag / 2 ? "the test is fine enough to see it." : $"whether it is part of this result is {NotDecidable}.");
        if (TimePattern.Of(fit.Design, fit.Solution.Residuals) is { Shape: TimeShape.Step } step)
            yield return string.Create(CultureInfo.InvariantCulture, $"From one reading on all lie {step.Size:+0.000;-0.000} mm off, {step.Size / quantum:+0.00;-0.00} teeth of the rotor. ") + Losses([step.Size], quantum, step.Uncertainty);
        else if (scatter.StandardDeviation > quantum / 8)
            yield return string.Create(CultureInfo.InvariantCulture, $"Whether single steps were lost is {NotDecidable}: one tooth of the rotor is {quantum:0.000} mm, and a reading scatters by more than an eighth of it.");
    }

    private static double FullStep(FitOptions options) => options.Numbers.GetValueOrDefault(StepAngle.Name, 1.8);
}
