using Commission.Core;

namespace Commission.App.Plain;

/// <summary>Sees that an input answers all alike and brings nothing forward: a pipe that says the same for ever must end, and be told so.</summary>
internal sealed class AnswersWithoutEnd
{
    /// <summary>Questions in a row, all of them asked before, after which nobody is believed to read them.</summary>
    public const int Most = 30;

    private readonly HashSet<string> asked = new(StringComparer.Ordinal);
    private int again;

    /// <summary>Something came of the answers: what was asked may be asked again.</summary>
    public void Forward() => again = 0;

    /// <summary>A question is about to be asked.</summary>
    /// <param name="question">The whole of it.</param>
    /// <param name="remedy">What is kept, and how to go on.</param>
    /// <returns>Why it is not; null where it is.</returns>
    public Problem? Asking(string question, string remedy)
    {
        again = asked.Add(question) ? 0 : again + 1;
        return again <= Most ? null : new Problem(string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{Most} answers in a row brought nothing new"), remedy);
    }
}
