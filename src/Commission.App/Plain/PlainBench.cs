using System.Collections.Immutable;
using System.CommandLine;
using Commission.App.CommandLine;
using Commission.App.Manual;
using Commission.Core;

namespace Commission.App.Plain;

/// <summary>The bench as question and answer: every request of the command line is chosen word by word, its arguments are asked for, and it is carried out.</summary>
internal sealed class PlainBench(Surroundings here, Line line)
{
    private const string Quit = "quit";

    private readonly AnswersWithoutEnd endless = new();
    private readonly HashSet<string> told = new(StringComparer.Ordinal);
    private bool enough;

    /// <summary>Asks until the input ends or <c>quit</c> is answered.</summary>
    /// <returns>The exit code of the last request.</returns>
    public async Task<int> RunAsync(ParseResult parsed, CancellationToken cancellation)
    {
        var nodes = CommandTree.Of(line.Root()).ToDictionary(node => node.Trail, StringComparer.Ordinal);
        var everywhere = Everywhere(parsed);
        var code = ExitCode.Done;
        here.Out.WriteLine("Commission, question and answer. One line an answer; quit ends, an empty line goes back and tells again what the words mean.");
        while (!cancellation.IsCancellationRequested && Choose(nodes) is { } node)
        {
            if (Asked(node) is not { } words)
                continue;
            code = await line.RunAsync([.. node.Trail.Split(' '), .. words, .. everywhere], cancellation).ConfigureAwait(false);
            if (code is not ExitCode.BadRequest)
                endless.Forward();
        }

        return enough ? ExitCode.BadRequest : code;
    }

    // Word by word down to a request; null at the end.
    private CommandTree.Node? Choose(Dictionary<string, CommandTree.Node> nodes)
    {
        for (var at = nodes[""]; ;)
        {
            // Said once: the question names the words again, and an empty line brings what they mean.
            foreach (var (word, meaning) in told.Add(at.Trail) ? at.Verbs : [])
                here.Out.WriteLine($"  {word}: {meaning}");
            var words = at.Verbs.Select(verb => verb.Word).ToImmutableArray();
            var (name, text) = at.Trail.Length == 0 ? ("request", "What is to be done?") : (at.Trail.Replace(' ', '-'), "Which of them?");
            if (Prompt("choose", name, $"{text} One of: {string.Join(", ", words)}, {Quit}.") is not { } answer || answer.Equals(Quit, StringComparison.OrdinalIgnoreCase))
                return null;
            if (words.FirstOrDefault(word => word.Equals(answer, StringComparison.OrdinalIgnoreCase)) is { } chosen)
                at = nodes[at.Trail.Length == 0 ? chosen : $"{at.Trail} {chosen}"];
            else if (answer.Length == 0)
            {
                at = nodes[""];
                told.Clear();
            }
            else
            {
                here.Error.WriteLine(new Problem($"'{PlainText.Of(answer)}' is no answer here", "Answer with one of the words in the question").ToString());
            }

            if (at.Verbs.IsEmpty)
                return at;
        }
    }

    // The arguments one by one, the options in one line; null where one that is needed was left empty, and where the input ended: nothing is done on half an answer.
    private List<string>? Asked(CommandTree.Node node)
    {
        var words = new List<string>();
        foreach (var argument in node.Arguments)
        {
            var answer = Prompt("text", argument.Name.ToLowerInvariant(), $"{argument.Meaning}.{(argument.Needed ? "" : " Empty for none.")}");
            if (answer is null || (answer.Length == 0 && argument.Needed))
                return null;
            words.AddRange(Parts(answer));
        }

        if (node.Options.IsEmpty)
            return words;
        foreach (var option in node.Options)
            here.Out.WriteLine($"  {option.Name}{(option.Value is { } value ? " " + value : "")}: {option.Meaning}");
        if (Prompt("text", "options", "Which of these, as they stand here with blanks between? Empty for none.") is not { } options)
            return null;
        words.AddRange(Parts(options));
        return words;
    }

    // Words in double quotes are one.
    private static IEnumerable<string> Parts(string text) => text.Split('"')
        .SelectMany((part, i) => i % 2 == 1 ? [part] : part.Split(' ', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries));

    private static ImmutableArray<string> Everywhere(ParseResult parsed) =>
    [
        "--plain", .. Given("--machine", parsed.GetValue(Common.Machine)), .. Given("--store", parsed.GetValue(Common.Store)), .. Given("--units", parsed.GetValue(Common.Units)),
        .. parsed.GetValue(Common.Json) ? (ReadOnlySpan<string>)["--json"] : [], .. parsed.GetValue(Common.Yes) ? (ReadOnlySpan<string>)["--yes"] : [],
    ];

    private static IEnumerable<string> Given(string option, string? value) => value is null ? [] : [option, value];

    private string? Prompt(string kind, string name, string text)
    {
        var question = $"ask {kind} {name}: {text}";
        if (endless.Asking(question, "Answer with one of the words that are named, or quit") is { } why)
        {
            here.Error.WriteLine(why.ToString());
            enough = true;
            return null;
        }

        here.Out.WriteLine(question);
        here.Out.Flush();
        return here.In.ReadLine()?.Trim();
    }
}
