namespace Commission.App.Tests.Screens;

/// <summary>The way of the screens to the practice bench, without keys: is the truth inside U as often as promised?</summary>
public class PracticeCoverageTests
{
    [Fact]
    public void Over_forty_machines_the_truth_lies_inside_U_as_often_as_95_percent_allow()
    {
        var outside = new List<string>();
        for (ulong seed = 1; seed <= 40; seed++)
        {
            using var journal = PracticeStore.Journal(TimeProvider.System);
            var (error, u) = ScaleOfY(journal, seed);
            if (Math.Abs(error) > u)
                outside.Add(FormattableString.Invariant($"seed {seed}: {error * 1e6:0} ppm against U {u * 1e6:0}"));
        }

        // Binomial(40, 0.05): more than 6 outside happen once in about 300 sets of forty.
        Assert.True(outside.Count <= 6, string.Join("; ", outside));
    }

    private static (double Error, double U) ScaleOfY(IJournal journal, ulong seed)
    {
        var desk = ScreenProgram.DeskOf(PracticeStore.Options(journal, seed), TimeProvider.System);
        var session = StoredPractice.Carried(desk, AxisName.Y);
        return KnownMachine.AgainstTruth(session.Finding!.Body.Finding, [.. session.Run.Readings.Select(reading => reading.Cell.Given["commanded_mm"])], AxisName.Y, seed);
    }
}
