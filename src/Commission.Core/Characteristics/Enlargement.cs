namespace Commission.Core.Characteristics;

/// <summary>How many times an error is drawn as large as it is, so that it can be seen.</summary>
internal static class Enlargement
{
    /// <summary>The largest of 1, 2, 5, 10, 20 and so on with which the longest error stays within its field; 1 where there is no error.</summary>
    /// <param name="longest">The longest error, not negative.</param>
    /// <param name="field">The length it may have in the picture, same unit, positive.</param>
    public static double Of(double longest, double field)
    {
        if (!(longest > 0) || longest >= field)
            return 1;
        var most = field / longest;
        var decade = Math.Pow(10, Math.Floor(Math.Log10(most)));
        return decade * (most >= 5 * decade ? 5 : most >= 2 * decade ? 2 : 1);
    }
}
