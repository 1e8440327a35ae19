namespace Commission.Workshop.Screens;

/// <summary>The four-character tags of states with their words.</summary>
public static class StateTag
{
    /// <summary>Tag and word, for example <c>[==] fresh</c>.</summary>
    public static string Of(BarStuff stuff) => stuff switch
    {
        BarStuff.Fresh => "[==] fresh",
        BarStuff.Due => "[--] due",
        BarStuff.Stale => "[xx] stale",
        BarStuff.Suspect => "[!!] suspect",
        _ => "[  ] never",
    };

    /// <summary>Age in days up to 27, then in weeks, as short as a column allows.</summary>
    public static string Age(TimeSpan age) => age.TotalDays switch
    {
        < 1 => "today",
        < 28 => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{(int)age.TotalDays}d"),
        _ => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{(int)(age.TotalDays / 7)}w"),
    };
}
