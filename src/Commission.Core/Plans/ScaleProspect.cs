using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.Machines;
using Commission.Core.Quantities;

namespace Commission.Core.Plans;

/// <summary>
/// Drives as the rule of decision supposes them, measured as a plan foretells it: how many are worse afterwards. The draws are a sequence of
/// low discrepancy (golden ratios of three dimensions, own choice), so that the same question has the same answer.
/// </summary>
internal static class ScaleProspect
{
    private const int Draws = 40_000;

    // One move reverses in half of the cases: then the lost motion stands in the length read.
    private const double Reversed = 0.5;

    // Powers of the real root of g^4 = g + 1: the generalised golden ratio of three dimensions.
    private static readonly double[] Steps = [1 / 1.2207440846057596, 1 / (1.2207440846057596 * 1.2207440846057596), 1 / (1.2207440846057596 * 1.2207440846057596 * 1.2207440846057596)];

    public static PlanProspect? Of(PlanQuestion question, PlanAnswer answer)
    {
        var axis = question.Machine[question.Axis ?? AxisName.X];
        var options = new FitOptions { Drive = axis.Drive, ScrewGrade = axis.Grade };
        if (answer.Naive is not [{ Predicted: [var usual, ..] }, ..] || answer.Way.Predicted.IsDefaultOrEmpty)
            return null;
        var drives = new Drives(AxisDecision.PlausibleSpread(options), AxisDecision.GradeLimit(options, double.PositiveInfinity));
        var once = new Error(usual.FreshUncertainty, usual.SharedUncertainty);
        var fates = ImmutableArray.CreateBuilder<PlanFate>();
        fates.Add(new PlanFate("before anything", null, Fate(drives, (error, _, _) => error).Typical));
        fates.Add(Told("set after one move", Fate(drives, (_, scatter, scale) => -once.At(scatter, scale))));
        if (question.LostMotionMm is { } lost and > 0)
        {
            var length = Math.Min(100, question.Machine.Travel(question.Axis ?? AxisName.X));
            var (reversed, not) = (Fate(drives, (_, scatter, scale) => (lost / length) - once.At(scatter, scale)), Fate(drives, (_, scatter, scale) => -once.At(scatter, scale)));
            fates.Add(new PlanFate(
                string.Create(CultureInfo.InvariantCulture, $"same, lost motion {lost:0.000} mm forgotten"), (reversed.Worse * Reversed) + (not.Worse * (1 - Reversed)),
                Math.Sqrt((reversed.Typical * reversed.Typical * Reversed) + (not.Typical * not.Typical * (1 - Reversed)))));
        }

        fates.Add(Told("plan A and its rule", Fate(drives, Rule(question, answer, options))));
        return new PlanProspect(Population(axis), Draws, fates.ToImmutable());
    }

    // The rule of decision: a graded screw is not changed on one result; else the posterior mean where the odds of harm are small enough.
    private static Func<double, double, double, double> Rule(PlanQuestion question, PlanAnswer answer, FitOptions options)
    {
        var told = answer.Way.Predicted[0];
        var measured = new Error(told.FreshUncertainty, told.SharedUncertainty);
        var travel = question.Machine.Travel(question.Axis ?? AxisName.X);
        var window = answer.Rows.Max(At) - answer.Rows.Min(At);
        return (error, scatter, scale) => error - AxisDecision.Removed(error + measured.At(scatter, scale), told.StandardUncertainty, travel, window, options, question.Limit);
    }

    private static double At(PlanCell cell) => cell.Given.GetValueOrDefault("commanded_mm");

    private static string Population(AxisDescription axis) => axis.Drive switch
    {
        DriveKind.Belt => "a belt",
        DriveKind.Rack => "a rack",
        DriveKind.Screw => axis.Grade is { } grade ? string.Create(CultureInfo.InvariantCulture, $"a screw of grade {grade}") : "a screw without papers",
        _ => "a drive that nothing is known of",
    };

    private static PlanFate Told(string done, (double Worse, double Typical) fate) => new(done, fate.Worse, fate.Typical);

    // Share that is worse than before, and the root mean square of what is left.
    private static (double Worse, double Typical) Fate(Drives drives, Func<double, double, double, double> after)
    {
        var (worse, squares) = (0, 0.0);
        for (var i = 0; i < Draws; i++)
        {
            var error = drives.At(Part(i, 0));
            var left = after(error, StandardNormal.Quantile(Part(i, 1)), (2 * Part(i, 2)) - 1);
            worse += Math.Abs(left) > Math.Abs(error) ? 1 : 0;
            squares += left * left;
        }

        return ((double)worse / Draws, Math.Sqrt(squares / Draws));
    }

    private static double Part(int i, int dimension) => (0.5 + ((i + 1) * Steps[dimension])) % 1;

    // A grade is a limit: the drive lies anywhere within it. Of others only how they usually scatter is known.
    private readonly record struct Drives(double Spread, double? Limit)
    {
        public double At(double part) => Limit is { } limit ? limit * ((2 * part) - 1) : Spread * StandardNormal.Quantile(part);
    }

    // Scatter is normal, the instrument's own scale lies anywhere within its limit.
    private readonly record struct Error(double Fresh, double Shared)
    {
        public double At(double scatter, double scale) => (Fresh * scatter) + (Shared * Math.Sqrt(3) * scale);
    }
}
