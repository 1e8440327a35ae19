namespace Commission.Core;

/// <summary>Finds the word somebody probably meant.</summary>
public static class Spelling
{
    /// <summary>A clause that offers the nearest known word, or nothing where none is near.</summary>
    /// <param name="typed">What stands there.</param>
    /// <param name="known">What may stand there.</param>
    public static string DidYouMean(string typed, IEnumerable<string> known) =>
        Nearest(typed, known) is { } word ? $" (did you mean '{word}'?)" : "";

    /// <summary>The nearest known word; null where none is near.</summary>
    public static string? Nearest(string typed, IEnumerable<string> known)
    {
        string? best = null;
        var least = int.MaxValue;
        foreach (var word in known)
        {
            // A text much longer than the word cannot be near it: the table below is not filled for it.
            if (Math.Abs(word.Length - typed.Length) > word.Length) continue;
            var distance = Distance(typed, word);
            if (distance > 0 && distance < word.Length && distance <= Math.Max(1, word.Length / 3) && distance < least) (best, least) = (word, distance);
        }

        return best;
    }

    // Changes, insertions, deletions and swaps of neighbours, each counted once; upper and lower case are the same.
    private static int Distance(string a, string b)
    {
        var table = new int[a.Length + 1, b.Length + 1];
        for (var i = 0; i <= a.Length; i++) table[i, 0] = i;
        for (var j = 0; j <= b.Length; j++) table[0, j] = j;
        for (var i = 1; i <= a.Length; i++)
        {
            for (var j = 1; j <= b.Length; j++)
            {
                var change = Same(a[i - 1], b[j - 1]) ? 0 : 1;
                table[i, j] = Math.Min(Math.Min(table[i - 1, j], table[i, j - 1]) + 1, table[i - 1, j - 1] + change);
                if (i > 1 && j > 1 && Same(a[i - 1], b[j - 2]) && Same(a[i - 2], b[j - 1]))
                    table[i, j] = Math.Min(table[i, j], table[i - 2, j - 2] + 1);
            }
        }

        return table[a.Length, b.Length];
    }

    private static bool Same(char a, char b) => char.ToLowerInvariant(a) == char.ToLowerInvariant(b);
}
