using Commission.Core;

namespace Commission.App.Plain;

/// <summary>The question about an answer that can hardly be so, in the words of a run.</summary>
internal static class Doubt
{
    /// <summary>Asks.</summary>
    /// <param name="asking">Where is asked.</param>
    /// <param name="name">Name of the question that was answered.</param>
    /// <param name="reason">What is odd.</param>
    /// <returns>Whether it is kept; where not it is answered anew.</returns>
    public static bool IsKept(PlainQuestion asking, string name, string reason)
    {
        var (by, answer) = asking.Ask(
            "choose", name, $"{reason}. A slip? R answers anew. O stores what was typed. Empty for R.", ["R asks for it again; O stores what was typed."],
            typed => typed.Length == 0 || PlainWords.Is(typed, "r") || PlainWords.Is(typed, "o") || PlainWords.IsYes(typed) ? null : new Problem($"'{PlainText.Of(typed)}' is no answer here", "Answer with one of the letters in the question"));
        return by is AnsweredBy.Answer && PlainWords.Is(answer, "o");
    }
}
