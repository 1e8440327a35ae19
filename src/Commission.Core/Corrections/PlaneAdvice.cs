using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.Machines;

namespace Commission.Core.Corrections;

/// <summary>What the joint rule says about a finding that tells all five errors of the plane; a remark beside the advice, which is the headline's alone.</summary>
public static class PlaneAdvice
{
    // Squareness of machines as they are built, rad: invented, plausible; no source.
    private const double SquarenessPrior = 1.5e-3;
    private static readonly (double WidthMm, double DepthMm) UsualWork = (400, 500);
    private static readonly string[] Names = ["scaleErrorX", "scaleErrorY", "squareness", "reversalX", "reversalY"];

    /// <summary>The finding, with the remark where it tells all five errors with their covariance.</summary>
    /// <param name="finding">The finding.</param>
    /// <param name="machine">The machine; null where none is known: drives of unknown kind and a work area of 400 x 500 mm then stand for it.</param>
    public static Finding Remarked(Finding finding, Machine? machine) =>
        Decide(finding, machine) is { } decision ? finding with { Remarks = finding.Remarks.Add(Words(decision)) } : finding;

    /// <summary>The joint decision; null where the finding does not tell all five errors with their covariance.</summary>
    public static JointCorrection? Decide(Finding finding, Machine? machine)
    {
        var given = finding.Parameters.Where(parameter => parameter.StandardUncertainty is not null).Select(parameter => parameter.Name).ToList();
        int[] at = [.. Names.Select(name => given.IndexOf(name))];
        if (at.Any(index => index < 0 || index >= finding.Covariance.Length)) return null;
        var covariance = new double[Names.Length, Names.Length];
        for (var i = 0; i < Names.Length; i++)
            for (var j = 0; j < Names.Length; j++) covariance[i, j] = finding.Covariance[at[i]][at[j]];
        var found = PlaneErrors.Of([.. Names.Select(name => finding.Parameter(name)!.Value!.Value)]);
        var priors = new PlaneErrors(Prior(machine?.X), Prior(machine?.Y), SquarenessPrior, double.PositiveInfinity, double.PositiveInfinity);
        return JointRule.Decide(found, covariance, priors, machine is null ? UsualWork : (machine.Travel(AxisName.X), machine.Travel(AxisName.Y)),
            (JointRule.WindowSpread(machine?.X?.Grade), JointRule.WindowSpread(machine?.Y?.Grade)));
    }

    private static double Prior(AxisDescription? axis) =>
        AxisDecision.PlausibleSpread(new FitOptions { Drive = axis?.Drive ?? DriveKind.Unknown, ScrewGrade = axis?.Grade });

    private static string Words(JointCorrection decision)
    {
        if (!decision.Changes)
        {
            return string.Create(CultureInfo.InvariantCulture,
                $"All five errors together: no correction is expected to gain anything at the worst corner ({decision.BeforeMm:0.00} mm expected) without risking to make it worse.");
        }

        var c = decision.Correction;
        (double Value, FormattableString Words)[] parts =
        [
            (c.ScaleX, $"scale X {c.ScaleX * 1e6:+0;-0} ppm"), (c.ScaleY, $"scale Y {c.ScaleY * 1e6:+0;-0} ppm"), (c.Squareness, $"squareness {c.Squareness * 1e3:+0.00;-0.00} mrad"),
            (c.ReversalX, $"lost motion X {-c.ReversalX:0.000} mm"), (c.ReversalY, $"lost motion Y {-c.ReversalY:0.000} mm"),
        ];
        var list = string.Join(", ", parts.Where(part => part.Value != 0).Select(part => part.Words.ToString(CultureInfo.InvariantCulture)));
        return string.Create(CultureInfo.InvariantCulture,
            $"All five errors together: take out {list}. The worst corner is expected at {decision.AfterMm:0.00} instead of {decision.BeforeMm:0.00} mm; the chance of making the machine worse is {100 * decision.ProbabilityOfHarm:0.0} %.");
    }
}
