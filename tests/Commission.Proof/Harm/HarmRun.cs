using Commission.Practice.Draws;
using Commission.Practice.Populations;

namespace Commission.Proof.Harm;

/// <summary>A strategy: what is done to a machine.</summary>
/// <param name="Name">Its name in the table.</param>
/// <param name="IsRival">Whether it is what people do today.</param>
/// <param name="CarryOut">Carries it out.</param>
/// <param name="Kind">Id of the kind of characteristic it rests on; without that kind it is left out of the table.</param>
internal sealed record Strategy(string Name, bool IsRival, Action<Scene> CarryOut, string? Kind = null);

/// <summary>What one strategy made of one machine.</summary>
internal readonly record struct Outcome(
    double Before, double After, double ScaleError, double Squareness, int Readings, double Minutes, int Drive, string Hand, bool RightNominal)
{
    /// <summary>Made worse: by more than 5 % and by more than 10 um at the worst corner.</summary>
    public bool Worse => After > 1.05 * Before && After > Before + 0.010;
}

/// <summary>Carries a strategy out on many machines; the machines are the same for every strategy.</summary>
internal static class HarmRun
{
    public static Outcome[] Over(Population population, Strategy strategy, ulong seed, int machines)
    {
        var outcomes = new Outcome[machines];
        Parallel.For(0, machines, i =>
        {
            var scene = new Scene(population, new DrawSource(seed).For("harm", i));
            var before = scene.Score;
            strategy.CarryOut(scene);
            var x = scene.Machine.ScaleError(Core.Machines.AxisName.X);
            var y = scene.Machine.ScaleError(Core.Machines.AxisName.Y);
            outcomes[i] = new Outcome(before, scene.Score, Math.Sqrt(((x * x) + (y * y)) / 2), scene.Machine.SquarenessXY, scene.Readings,
                scene.Minutes, population.Drives.IndexOf(scene.Draw.Drive), scene.Draw.Hand.Name, scene.Draw.WrongNominal == (1, 1));
        });
        return outcomes;
    }

    public static double RootMeanSquare(IEnumerable<double> values) => Math.Sqrt(values.Average(value => value * value));

    public static double Quantile(IEnumerable<double> values, double share)
    {
        var sorted = values.Order().ToArray();
        var at = share * (sorted.Length - 1);
        var low = (int)at;
        return low + 1 < sorted.Length ? sorted[low] + ((at - low) * (sorted[low + 1] - sorted[low])) : sorted[low];
    }
}
