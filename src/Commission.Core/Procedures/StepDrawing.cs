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

    /// <summary>Rows and words, each changed.</summary>
    public StepDrawing With(Func<string, string> row, Func<string, string> words) => new([.. Rows.Select(row)], words(Words));
}
