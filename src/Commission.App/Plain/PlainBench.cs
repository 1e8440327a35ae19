using System.Collections.Immutable;
using System.CommandLine;
using Commission.App.CommandLine;
using Commission.App.Manual;
using Commission.Core;
using Commission.Core.Quantities;

namespace Commission.App.Plain;

/// <summary>The bench as question and answer: every request of the command line is chosen word by word, what it needs is asked for, and it is carried out.</summary>
internal sealed class PlainBench(Surroundings here, Line line)
{
    private const string Quit = "quit";

    private readonly HashSet<string> told = new(StringComparer.Ordinal);

    /// <summary>Asks until the input ends or <c>quit</c> is answered.</summary>
    /// <returns>The exit code of the last request that was carried out; where the input ends, that of the last one, refused or not.</returns>
    public async Task<int> RunAsync(ParseResult parsed, CancellationToken cancellation)
    {
        var nodes = CommandTree.Of(line.Root()).ToDictionary(node => node.Trail, StringComparer.Ordinal);
        var asking = new PlainQuestion(() => here.In, here.Out, here.Error);
        var (carried, last) = (ExitCode.Done, ExitCode.Done);
        Greet();
        while (!cancellation.IsCancellationRequested)
        {
            var (chosen, left) = Choose(nodes, asking);
            if (chosen is not { } node)
            {
                last = left ? carried : last;
                break;
            }

            if (new RequestQuestions(here, asking, node).Words() is not { } words)
            {
                if (!asking.Enough)
                    here.Out.WriteLine("Put aside: nothing was done.");
                continue;
            }

            last = await line.RunAsync([.. node.Trail.Split(' '), .. Everywhere(parsed, words), .. words], cancellation).ConfigureAwait(false);
            here.Practice?.Settle();
            if (last is ExitCode.BadRequest)
                continue;
            carried = last;
            asking.Forward();
        }

        Farewell();
        return asking.Enough ? ExitCode.BadRequest : last;
    }

    private void Greet()
    {
        here.IsAnswered = true;
        if (here.Practice is { } practice)
            here.Out.WriteLine($"PRACTICE. Machine, instruments and controller are simulated; {(practice.Kept is { } folder ? $"what is done is kept in {Words.Clean(folder)}" : "nothing is kept")}. quit ends practice.");
        here.Out.WriteLine("Commission, question and answer. One line an answer; quit ends, an empty line goes back and tells again what the words mean.");
        here.Out.WriteLine(PlainWords.Told);
    }

    private void Farewell()
    {
        if (here.Practice is { } practice)
            here.Out.WriteLine(practice.Kept is { } folder ? $"Practice is put away. It goes on with rehearse, and the folder {Words.Clean(folder)}." : "Practice is put away. Nothing of it was kept.");
    }

    // Word by word down to a request; none at the end, and whether that was answered.
    private (CommandTree.Node? Node, bool Left) Choose(Dictionary<string, CommandTree.Node> nodes, PlainQuestion asking)
    {
        for (var at = nodes[""]; ;)
        {
            var means = at.Verbs.Select(verb => $"  {verb.Word}: {verb.Meaning}").ToArray();
            // Said once: the question names the words again, and an empty line brings what they mean.
            foreach (var meaning in told.Add(at.Trail) ? means : [])
                here.Out.WriteLine(meaning);
            var words = at.Verbs.Select(verb => verb.Word).ToImmutableArray();
            var (name, text) = at.Trail.Length == 0 ? ("request", $"{(here.Practice is null ? "" : "PRACTICE. ")}What is to be done?") : (at.Trail.Replace(' ', '-'), "Which of them?");
            var (by, answer) = asking.Ask("choose", name, $"{text} One of: {string.Join(", ", words)}, {Quit}.", means);
            if (by is AnsweredBy.End || (by is AnsweredBy.Aside && (at.Trail.Length == 0 || PlainWords.Is(answer, Quit))))
                return (null, by is AnsweredBy.Aside);
            if (by is AnsweredBy.Aside or AnsweredBy.Back)
                at = nodes[""];
            else if (words.FirstOrDefault(word => PlainWords.Is(word, answer)) is { } chosen)
                at = nodes[at.Trail.Length == 0 ? chosen : $"{at.Trail} {chosen}"];
            else if (answer.Length == 0)
                (at, _) = (nodes[""], Forget());
            else
                here.Error.WriteLine(new Problem($"'{PlainText.Of(answer)}' is no answer here", "Answer with one of the words in the question").ToString());
            if (at.Verbs.IsEmpty)
                return (at, false);
        }
    }

    private bool Forget()
    {
        told.Clear();
        return true;
    }

    // A request that names a store of its own means that one.
    private static ImmutableArray<string> Everywhere(ParseResult parsed, List<string> words) =>
    [
        "--plain", .. Given("--machine", parsed.GetValue(Common.Machine)), .. words.Contains("--store") ? [] : Given("--store", parsed.GetValue(Common.Store)), .. Given("--units", parsed.GetValue(Common.Units)),
        .. parsed.GetValue(Common.Json) ? (ReadOnlySpan<string>)["--json"] : [], .. parsed.GetValue(Common.Yes) ? (ReadOnlySpan<string>)["--yes"] : [],
    ];

    private static IEnumerable<string> Given(string option, string? value) => value is null ? [] : [option, value];
}
