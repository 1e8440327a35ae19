using System.Text;

namespace Commission.Proof.Tables;

/// <summary>A table as it is printed: a title, a line of context, heads, rows, and the goals with their figures.</summary>
internal sealed class ProofTable(string title, string context, params string[] heads)
{
    private readonly List<string[]> _rows = [];
    private readonly List<Goal> _goals = [];

    /// <summary>A goal with the figure that was reached.</summary>
    /// <param name="Words">What is asked.</param>
    /// <param name="Found">The figure in words.</param>
    /// <param name="Held">Whether it holds.</param>
    /// <param name="Known">Why it is known not to hold; null where that is not so.</param>
    internal sealed record Goal(string Words, string Found, bool Held, string? Known = null)
    {
        /// <summary>Whether a miss counts: one that is known and explained does not.</summary>
        public bool Counts => Known is null;
    }

    public IReadOnlyList<Goal> Goals => _goals;

    public void Row(params string[] cells) => _rows.Add(cells);

    public void Ask(string words, string found, bool held) => _goals.Add(new Goal(words, found, held));

    /// <summary>A goal that is known to be missed: said every time, with the reason.</summary>
    public void Confess(string words, string found, bool held, string why) => _goals.Add(new Goal(words, found, held, why));

    /// <summary>A share with its goal: missed only where even three standard errors do not explain it.</summary>
    public void AskShare(string words, int count, int of, double atMost, string? known = null)
    {
        var share = of == 0 ? 1 : (double)count / of;
        var error = Math.Sqrt(atMost * (1 - atMost) / Math.Max(1, of));
        var held = share <= atMost + (3 * error);
        var beyond = held && share > atMost ? ", which so few runs cannot tell from the goal" : "";
        _goals.Add(new Goal(words, string.Create(CultureInfo.InvariantCulture, $"{100 * share:F2} % of {of}{beyond}"), held, known));
    }

    /// <summary>Prints it.</summary>
    /// <returns>0; 1 where a goal is missed.</returns>
    public int Show()
    {
        Console.Out.WriteLine(Print());
        return Goals.All(goal => goal.Held) ? 0 : 1;
    }

    public string Print()
    {
        var text = new StringBuilder().AppendLine(title).AppendLine(context);
        var widths = heads.Select((head, i) => Math.Max(head.Length, _rows.Count == 0 ? 0 : _rows.Max(row => row[i].Length))).ToArray();
        AppendRow(text, heads, widths);
        foreach (var row in _rows)
            AppendRow(text, row, widths);
        foreach (var goal in _goals)
        {
            text.Append(goal.Held ? "  held    " : "  missed  ").Append(goal.Words).Append(": ").Append(goal.Found);
            text.AppendLine(goal is { Held: false, Known: { } why } ? "; known: " + why : "");
        }

        return text.ToString();
    }

    private static void AppendRow(StringBuilder text, string[] cells, int[] widths)
    {
        for (var i = 0; i < cells.Length; i++)
            text.Append(i == 0 ? "  " + cells[i].PadRight(widths[i]) : "  " + cells[i].PadLeft(widths[i]));
        text.AppendLine();
    }
}
