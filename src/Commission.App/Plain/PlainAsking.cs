using System.Collections.Immutable;
using Commission.App.CommandLine;
using Commission.Core;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Workshop.Sessions;

namespace Commission.App.Plain;

/// <content>Asking and saying: one line each.</content>
internal sealed partial class PlainFront
{
    private readonly AnswersWithoutEnd endless = new();

    private Outcome<ProcedureRun> Unclear(ProcedureSession session, string answer)
    {
        Tell([new Problem($"'{PlainText.Of(answer)}' is no answer here", "Answer with one of the words in the question")]);
        unclear = true;
        return session.Run;
    }

    private void SayOnce(string text)
    {
        if (again) return;
        foreach (var line in Lines(text)) Say(line);
    }

    private string? Prompt(string kind, string name, string text)
    {
        var question = $"ask {kind} {name}: {text}";
        if (endless.Asking(question, "The run is kept as it stands: start the procedure again to go on there, and answer what is asked") is { } enough)
        {
            Tell([enough]);
            ended = ExitCode.BadRequest;
            return null;
        }

        output.WriteLine(question);
        output.Flush();
        if (input.ReadLine() is { } line) return line.Trim();
        if (stopping.IsCancellationRequested) return null;
        Tell([new Problem("the input ended before the run did", "Start the procedure again: it goes on where it stood")]);
        ended = ExitCode.BadRequest;
        return null;
    }

    private void Tell(ImmutableArray<Problem> problems)
    {
        foreach (var problem in problems) error.WriteLine(problem.ToString());
        error.Flush();
    }

    private void Say(string line)
    {
        output.WriteLine(line);
        output.Flush();
    }

    private static bool IsYes(string answer) => Is(answer, Yes) || Is(answer, "y");

    private static bool Is(string answer, string word) => answer.Equals(word, StringComparison.OrdinalIgnoreCase);

    private static string? SkipReason(string answer) =>
        answer.StartsWith("skip ", StringComparison.OrdinalIgnoreCase) && answer[5..].Trim() is { Length: > 2 } reason ? Words.Clean(reason) : null;

    private static string OneLine(string text) => string.Join(' ', Lines(text));

    private static IEnumerable<string> Lines(string text) =>
        Words.Lines(text).Select(Words.Clean);
}
