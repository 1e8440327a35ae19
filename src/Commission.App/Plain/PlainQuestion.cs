using Commission.Core;

namespace Commission.App.Plain;

/// <summary>What came of a question outside a run.</summary>
internal enum AnsweredBy
{
    /// <summary>An answer.</summary>
    Answer,

    /// <summary>The answer before is taken back.</summary>
    Back,

    /// <summary>What was asked for is put aside.</summary>
    Aside,

    /// <summary>The input ended.</summary>
    End,
}

/// <summary>One question outside a run, a line: the words that hold everywhere are understood here too.</summary>
/// <param name="input">Where answers come from, looked up for each: a linked run begins to read lines as they are typed.</param>
/// <param name="output">Where questions go.</param>
/// <param name="error">Where it is told that an answer is none.</param>
internal sealed class PlainQuestion(Func<TextReader> input, TextWriter output, TextWriter error)
{
    private readonly AnswersWithoutEnd endless = new();

    /// <summary>Whether nobody is believed to read the questions any more: then none is asked.</summary>
    public bool Enough { get; private set; }

    /// <summary>Something came of the answers.</summary>
    public void Forward() => endless.Forward();

    /// <summary>Asks.</summary>
    /// <param name="kind"><c>confirm</c>, <c>choose</c>, <c>number</c> or <c>text</c>.</param>
    /// <param name="name">Its name.</param>
    /// <param name="text">The question.</param>
    /// <param name="help">What helps with the answer, a line each.</param>
    /// <param name="wrong">Why an answer is none; null where it is one.</param>
    /// <returns>What came, and the answer.</returns>
    public (AnsweredBy By, string Text) Ask(string kind, string name, string text, IEnumerable<string> help, Func<string, Problem?>? wrong = null)
    {
        while (true)
        {
            var question = $"ask {kind} {name}: {text}";
            if (endless.Asking(question, "Answer with one of the words that are named, or quit") is { } enough)
            {
                Enough = true;
                error.WriteLine(enough.ToString());
                return (AnsweredBy.End, "");
            }

            output.WriteLine(question);
            output.Flush();
            if (input().ReadLine()?.Trim() is not { } answer)
                return (AnsweredBy.End, "");
            if (PlainWords.IsAside(answer))
                return (AnsweredBy.Aside, answer);
            if (PlainWords.IsBack(answer))
                return (AnsweredBy.Back, answer);
            if (PlainWords.IsHelp(answer))
            {
                foreach (var line in help)
                    output.WriteLine(line);
                output.WriteLine("Q puts it aside and nothing is done. U goes back to the question before.");
            }
            else if (wrong?.Invoke(answer) is { } problem)
            {
                error.WriteLine(problem.ToString());
            }
            else
            {
                return (AnsweredBy.Answer, answer);
            }
        }
    }
}
