using Commission.Tests;

namespace Commission.App.Tests.CommandLine;

/// <summary>Requests as typed, on a store in a folder of each test's own.</summary>
public abstract class TypedRequests : OwnFolder
{
    private protected string Store => At("store");

    private protected string At(string name) => Path.Combine(Folder, name);

    private protected Task<Typed.Ending> Run(params string[] arguments) => Typed.Run([.. arguments, "--store", Store]);

    /// <summary>The bench by question and answer. Whatever is asked for and not told is answered with an empty line, and a confirmation with yes.</summary>
    /// <param name="answers">Words that choose requests, and answers by the names of their questions, as <c>out=r.md</c>; parted by a bar. <c>@</c> stands for the folder.</param>
    /// <param name="store">Name of the store's folder.</param>
    private protected async Task<Typed.Ending> Answered(string answers, string store = "store")
    {
        var given = answers.Replace("@", Folder, StringComparison.Ordinal).Split('|').ToList();
        string? Next(string prompt)
        {
            var name = prompt.Split(' ')[2].TrimEnd(':');
            var at = given.FindIndex(one => one.StartsWith(name + "=", StringComparison.Ordinal));
            if (at < 0 && name == "more")
                return given.Where(one => one.Contains('=', StringComparison.Ordinal)).Select(one => one.Split('=')[0]).FirstOrDefault(prompt.Contains) ?? "";
            if (at < 0 && prompt.Contains(", quit.", StringComparison.Ordinal))
                at = given.FindIndex(one => !one.Contains('=', StringComparison.Ordinal));
            else if (at < 0)
                return prompt.Contains("mpty", StringComparison.Ordinal) ? "" : "yes";
            if (at < 0)
                return null;
            var answer = given[at];
            given.RemoveAt(at);
            return answer[(answer.IndexOf('=', StringComparison.Ordinal) + 1)..];
        }

        var person = new Plain.AnsweringPerson(Next);
        using var error = new StringWriter { NewLine = "\n" };
        var here = new App.CommandLine.Surroundings { In = person.Keyboard, Out = person, Error = error, DefaultStore = At("no-store") };
        var code = await Composition.Compose(here).RunAsync(["--plain", "--store", At(store)], CancellationToken.None);
        return new Typed.Ending(code, string.Join('\n', person.Lines), error.ToString());
    }
}
