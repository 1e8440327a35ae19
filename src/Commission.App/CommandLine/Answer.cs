using System.Collections.Immutable;
using System.Text.Json;
using Commission.Core;
using Commission.Core.Quantities;
using Commission.Core.Reports;

namespace Commission.App.CommandLine;

/// <summary>Writes answers and problems in the two forms of the contract.</summary>
internal sealed class Answer(Surroundings here, bool json)
{
    /// <summary>Whether the answer is JSON.</summary>
    public bool Json => json;

    /// <summary>Writes lines for people.</summary>
    public void Text(IEnumerable<string> lines)
    {
        foreach (var line in lines)
            here.Out.WriteLine(line);
    }

    /// <summary>Writes one JSON value on one line.</summary>
    public void Value(Action<Utf8JsonWriter> write) => here.Out.WriteLine(JsonText.Of(write));

    /// <summary>Tells that something was done: a line for people, an object with one sentence in JSON.</summary>
    /// <returns>The exit code that goes with it.</returns>
    public int Done(string sentence)
    {
        if (json)
        {
            Value(writer =>
            {
                writer.WriteStartObject();
                writer.WriteString("done", sentence);
                writer.WriteEndObject();
            });
        }
        else
        {
            Text([Words.Clean(sentence)]);
        }

        return ExitCode.Done;
    }

    /// <summary>Writes problems to standard error.</summary>
    /// <returns>The exit code that goes with them.</returns>
    public int Problems(ImmutableArray<Problem> problems) =>
        Problems(problems, problems.Any(problem => problem.IsFailure) ? ExitCode.Failed : ExitCode.BadRequest);

    /// <summary>Writes problems to standard error.</summary>
    /// <returns>The code given.</returns>
    public int Problems(ImmutableArray<Problem> problems, int code)
    {
        if (json)
        {
            here.Error.WriteLine(JsonText.Of(writer => Write(writer, problems)));
            return code;
        }

        foreach (var problem in problems)
            here.Error.WriteLine(Words.Clean(problem.ToString()));
        return code;
    }

    /// <summary>Writes one problem to standard error.</summary>
    public int Problem(string what, string remedy, int code = ExitCode.BadRequest) => Problems([new Problem(what, remedy)], code);

    private static void Write(Utf8JsonWriter writer, ImmutableArray<Problem> problems)
    {
        writer.Document("commission.problems/1", () =>
        {
            writer.Objects("problems", problems, problem =>
            {
                writer.WriteString("file", problem.File);
                writer.Whole("line", problem.Line);
                writer.Whole("column", problem.Column);
                writer.WriteString("what", problem.Field is null ? problem.What : $"[{problem.Field}] {problem.What}");
                writer.WriteString("remedy", problem.Remedy);
            });
        });
    }
}
