namespace Commission.Core.Machines.Dialects;

/// <summary>What no line that moves, homes or unlocks may hold.</summary>
public static class DialectWords
{
    /// <summary>Whether a line holds a word that starts, stops or sets a spindle or the like: one that begins with M, S or T.</summary>
    /// <remarks>Any such letter outside a placeholder counts, in either case: too strict is on the right side.</remarks>
    public static bool Forbidden(string line) =>
        line.Replace("{axis}", "", StringComparison.Ordinal).Replace("{distance}", "", StringComparison.Ordinal)
            .Replace("{speed}", "", StringComparison.Ordinal).Any(letter => "MSTmst".Contains(letter));
}
