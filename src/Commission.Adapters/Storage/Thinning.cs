namespace Commission.Adapters.Storage;

/// <summary>Which backups stay: the newest five, then the newest of each month, at most twelve months.</summary>
public static class Thinning
{
    private const int Newest = 5;
    private const int Months = 12;
    private const int MonthLetters = 6;

    /// <summary>The names that stay.</summary>
    /// <param name="names">Names that begin with <c>yyyyMM</c>; others are left alone.</param>
    public static IReadOnlySet<string> Keep(IEnumerable<string> names)
    {
        var all = names.OrderDescending(StringComparer.Ordinal).ToList();
        var dated = all.Where(name => name.Length > MonthLetters && name[..MonthLetters].All(char.IsAsciiDigit) && !name.EndsWith(".part", StringComparison.Ordinal)).ToList();
        var monthly = dated.GroupBy(name => name[..MonthLetters]).Select(month => month.First()).Take(Months);
        return all.Except(dated).Union(dated.Take(Newest)).Union(monthly).ToHashSet(StringComparer.Ordinal);
    }
}
