using System.Collections.Immutable;
using System.Globalization;
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

    // A value that nobody chose is none: asked until one of the two is.
    private TypedNumber? Comma(string text, NumberReading.Ambiguous two)
    {
        var question = string.Create(CultureInfo.InvariantCulture, $"{Words.Clean(text)} can be {two.AsDecimal.Value} or {two.AsThousands.Value}. D for the first, T for the second; empty for D.");
        while (Prompt("choose", "comma", question) is { } answer)
        {
            if (answer.Length == 0 || Is(answer, "d") || IsYes(answer)) return two.AsDecimal;
            if (Is(answer, "t")) return two.AsThousands;
            Tell([new Problem($"'{PlainText.Of(answer)}' is none of the two", "Answer D or T: which of them was meant")]);
        }

        return null;
    }

    // What was understood, with a point, the instrument's last digit and its unit.
    private string Value(ProcedureSession session, TakenReading reading) => ReadingText.Of(
        reading.Typed, reading.Value, session.UnitOf(reading), ShownUnits.Named(LengthUnit), session.Run.Setting.Instrument?.ResolutionMm);

    private static string Spoken(string unit) => unit == "in" ? "inches" : unit;

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
