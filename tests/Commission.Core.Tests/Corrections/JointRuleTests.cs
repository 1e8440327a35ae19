using Commission.Core.Corrections;

namespace Commission.Core.Tests.Corrections;

public sealed class JointRuleTests
{
    private static readonly (double, double) Work = (400, 500);
    private static readonly PlaneErrors Priors = new(630e-6, 630e-6, 1.5e-3, double.PositiveInfinity, double.PositiveInfinity);

    // Uncertainties of the default plate, independent here.
    private static double[,] Covariance(double factor = 1)
    {
        double[] u = [172e-6, 171e-6, 170e-6, 0.013, 0.013];
        var matrix = new double[5, 5];
        for (var i = 0; i < 5; i++)
            matrix[i, i] = u[i] * u[i] * factor * factor;
        return matrix;
    }

    [Fact]
    public void Errors_within_their_uncertainty_are_left_alone()
    {
        var decision = JointRule.Decide(new PlaneErrors(60e-6, -50e-6, 80e-6, -0.004, -0.003), Covariance(), Priors, Work);
        Assert.False(decision.Changes);
        Assert.Equal(decision.BeforeMm, decision.AfterMm);
    }

    [Fact]
    public void Large_errors_are_taken_out_together()
    {
        var decision = JointRule.Decide(new PlaneErrors(2000e-6, -1500e-6, 3e-3, -0.15, -0.1), Covariance(), Priors, Work);
        Assert.True(decision.Changes);
        Assert.True(decision.AfterMm < 0.3 * decision.BeforeMm);
        Assert.InRange(decision.ProbabilityOfHarm, 0, 0.05);
    }

    [Fact]
    public void Positive_reversal_values_are_never_compensated()
    {
        var decision = JointRule.Decide(new PlaneErrors(0, 0, 4e-3, 0.2, 0.2), Covariance(), Priors, Work);
        Assert.Equal((0.0, 0.0), (decision.Correction.ReversalX, decision.Correction.ReversalY));
    }

    [Fact]
    public void What_is_changed_where_the_window_speaks_for_the_axis_is_left_alone_where_it_may_not()
    {
        var found = new PlaneErrors(500e-6, -450e-6, 0, 0, 0);
        var trusted = JointRule.Decide(found, Covariance(), Priors, Work);
        var doubted = JointRule.Decide(found, Covariance(), Priors, Work, (300e-6, 300e-6));
        Assert.True(trusted.Changes);
        Assert.False(doubted.Changes);
    }

    [Fact]
    public void A_smaller_bound_never_accepts_more_harm()
    {
        var found = new PlaneErrors(300e-6, 200e-6, 0.5e-3, -0.03, -0.03);
        Assert.InRange(JointRule.Decide(found, Covariance(), Priors, Work, harm: 0.01).ProbabilityOfHarm, 0, 0.01);
    }

    [Fact]
    public void The_hand_worked_corner_is_found()
    {
        // 300 ppm, -100 ppm, 500 urad over 600 x 400: (0.38, -0.04) mm; own arithmetic: 0.3 x 0.6 + 0.5 x 0.4 and -0.1 x 0.4.
        Assert.Equal(Math.Sqrt((0.38 * 0.38) + (0.04 * 0.04)), new PlaneErrors(300e-6, -100e-6, 500e-6, 0, 0).WorstCornerMm(600, 400), 1e-12);
    }
}
