namespace Commission.Core.Characteristics;

/// <summary>Follows a level through results of unequal uncertainty and spacing; equals an exponential average where both are equal.</summary>
/// <param name="processVariance">Variance the level gains in a day, in its unit squared.</param>
internal sealed class LevelFilter(double processVariance)
{
    private double offset;
    private double offsetVariance;
    private double crossed;

    /// <summary>Level after the results so far.</summary>
    public double Level { get; private set; }

    /// <summary>Variance of the level.</summary>
    public double Variance { get; private set; } = double.NaN;

    /// <summary>Whether any result has come in since the start or the last new baseline.</summary>
    public bool Started => !double.IsNaN(Variance);

    /// <summary>Log likelihood of the innovations.</summary>
    public double LogLikelihood { get; private set; }

    /// <summary>Gain of the last step.</summary>
    public double Gain { get; private set; }

    /// <summary>Forgets the level: a new baseline begins.</summary>
    public void Restart() => (Variance, offset, offsetVariance, crossed) = (double.NaN, 0, 0, 0);

    /// <summary>From here on results carry an unknown constant offset, as after a change of instrument.</summary>
    /// <param name="uncertainty">Standard uncertainty of the offset.</param>
    public void Offset(double uncertainty) => (offset, offsetVariance, crossed) = (0, uncertainty * uncertainty, 0);

    /// <summary>Takes in a result.</summary>
    /// <param name="value">The result.</param>
    /// <param name="uncertainty">Its fresh standard uncertainty.</param>
    /// <param name="days">Days since the one before.</param>
    /// <returns>The standardised innovation; null for the first result of a baseline.</returns>
    public double? Take(double value, double uncertainty, double days)
    {
        if (!Started)
        {
            (Level, Variance, Gain) = (value, uncertainty * uncertainty, 1);
            return null;
        }
        var predicted = Variance + processVariance * days;
        // State: level and offset of the instrument; a result is their sum.
        var total = predicted + 2 * crossed + offsetVariance + uncertainty * uncertainty;
        var innovation = value - Level - offset;
        Gain = (predicted + crossed) / total;
        var offsetGain = (crossed + offsetVariance) / total;
        (Level, offset) = (Level + Gain * innovation, offset + offsetGain * innovation);
        (Variance, crossed, offsetVariance) = (
            predicted - Gain * (predicted + crossed),
            crossed - Gain * (crossed + offsetVariance),
            offsetVariance - offsetGain * (crossed + offsetVariance));
        LogLikelihood -= (Math.Log(total) + innovation * innovation / total) / 2;
        return innovation / Math.Sqrt(total);
    }
}

/// <summary>Two cumulative sums of standardised innovations, allowance 0.5 and limit 5 (NIST/SEMATECH e-Handbook, 6.3.2.3, from memory; run lengths by own simulation).</summary>
internal sealed class CumulativeSums(double allowance = 0.5, double limit = 5)
{
    private double upper;
    private double lower;

    /// <summary>Number of the result after which the alarming sum was last at zero.</summary>
    public int Since { get; private set; }

    private int upperSince;
    private int lowerSince;

    /// <summary>Begins again, as with a new baseline.</summary>
    /// <param name="number">Number of the first result of it.</param>
    public void Restart(int number) => (upper, lower, upperSince, lowerSince) = (0, 0, number, number);

    /// <summary>Adds an innovation; true where a sum passes the limit, after which both start again.</summary>
    public bool Alarms(double innovation, int number)
    {
        upper = Math.Max(0, upper + innovation - allowance);
        lower = Math.Max(0, lower - innovation - allowance);
        if (upper == 0)
            upperSince = number;
        if (lower == 0)
            lowerSince = number;
        if (upper <= limit && lower <= limit)
            return false;
        Since = upper > limit ? upperSince : lowerSince;
        (upper, lower) = (0, 0);
        return true;
    }
}
