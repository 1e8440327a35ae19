using System.Collections.Immutable;

namespace Commission.Core.Procedures;

/// <summary>What a step looks like on the bench, drawn with the characters of a terminal, and the same in words.</summary>
/// <param name="Rows">1 to <see cref="MostRows"/> rows of at most <see cref="MostWidth"/> printable ASCII characters.</param>
/// <param name="Words">What is drawn, for who cannot see it.</param>
public sealed record StepDrawing(ImmutableArray<string> Rows, string Words)
{
    /// <summary>Rows that stand beside a text in the smallest window.</summary>
    public const int MostRows = 10;

    /// <summary>Characters of a row.</summary>
    public const int MostWidth = 78;

    /// <summary>Lines of the text beside a drawing, and characters of each: with them the drawing stands in the smallest window.</summary>
    public const int MostLines = 5, LineWidth = 76;

    private const int NumberWidth = 3;

    /// <summary>How many lines a text takes: one that begins with a digit and two blanks keeps that number in the margin.</summary>
    /// <param name="text">The text of the step; a name in braces counts as one character.</param>
    public static int LinesOf(string text) => Placeholders.Fill(text, _ => "X").Split('\n', StringSplitOptions.RemoveEmptyEntries)
        .Sum(line => line is [>= '0' and <= '9', ' ', ' ', ..] ? Wrapped(line[NumberWidth..], LineWidth - NumberWidth) : Wrapped(line, LineWidth));

    private static int Wrapped(string line, int width)
    {
        var (lines, at) = (1, 0);
        foreach (var word in line.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (at > 0 && at + 1 + word.Length > width)
                (lines, at) = (lines + 1, word.Length);
            else
                at += at > 0 ? 1 + word.Length : word.Length;
        }

        return lines;
    }

    /// <summary>Rows and words, each changed.</summary>
    public StepDrawing With(Func<string, string> row, Func<string, string> words) => new([.. Rows.Select(row)], words(Words));
}
