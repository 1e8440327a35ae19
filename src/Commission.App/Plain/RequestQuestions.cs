using System.Collections.Immutable;
using Commission.App.CommandLine;
using Commission.App.Manual;
using Commission.App.Screens;
using Commission.Core;
using Commission.Core.Instruments;

namespace Commission.App.Plain;

/// <summary>Asks for the arguments and options of one request, each by a question of its own, with a way back.</summary>
internal sealed class RequestQuestions(Surroundings here, PlainQuestion asking, CommandTree.Node node)
{
    // So many words a question reads out; more of them only help does.
    private const int MostWords = 12;

    private const string More = "more", Yes = "yes", Person = "operator";

    private readonly Dictionary<string, string> answers = new(StringComparer.Ordinal);

    // In the order of the questions: the last one is what a step back takes back.
    private readonly List<string> order = [];

    private bool complete;

    /// <summary>The words after those of the request; null where it was put aside, and where the input ended: nothing is done on half an answer.</summary>
    public List<string>? Words()
    {
        var options = node.Options.Select(option => RequestOptions.AsAsked(node.Trail, option)).ToImmutableArray();
        while (!complete)
        {
            var by = node.Arguments.FirstOrDefault(argument => !answers.ContainsKey(Name(argument))) is { } argument ? Ask(argument)
                : options.OrderBy(option => option.Name is "--port" or "--dialect" ? 0 : 1).FirstOrDefault(option => Waits(option) && RequestOptions.IsUsual(node.Trail, Name(option))) is { } usual ? Ask(usual)
                : AskMore([.. options.Where(Waits)]);
            if (by is AnsweredBy.Aside or AnsweredBy.End || (by is AnsweredBy.Back && order.Count == 0))
                return null;
            if (by is AnsweredBy.Back)
            {
                answers.Remove(order[^1]);
                order.RemoveAt(order.Count - 1);
            }
        }

        return Typed(options);
    }

    private static string Name(CommandTree.Given argument) => argument.Name.ToLowerInvariant();

    private static string Name(CommandTree.Choice option) => option.Name.TrimStart('-');

    private bool Waits(CommandTree.Choice option) => !answers.ContainsKey(Name(option))
        && RequestOptions.MayBeTold(node.Trail, Name(option), answers.Where(one => one.Value.Length > 0).ToDictionary());

    private AnsweredBy Ask(CommandTree.Given argument) =>
        Ask(Name(argument), argument.Values.IsEmpty ? "text" : "choose", RequestOptions.Text(argument.Meaning, argument.Needed), argument.Meaning, argument.Values, argument.Needed);

    private AnsweredBy Ask(CommandTree.Choice option)
    {
        var (name, needed) = (Name(option), RequestOptions.IsNeeded(node.Trail, option));
        // In practice there is one controller, and it speaks one dialect.
        if (here.Practice is not null && name == "dialect")
            return Keep(name, PracticePort.Dialect);
        ImmutableArray<string> words = name == "port" ? [.. here.PortNames.List().Select(port => port.Name)] : name == "axis" ? ["X", "Y", "Z"] : option.Values;
        var kind = name == "port" ? "choose" : RequestOptions.KindOf(option);
        return kind == "confirm"
            ? Confirm(name, option.Meaning)
            : Ask(name, kind, name == "port" && !needed ? "Over which port is the controller linked? Empty: over none, you command each move." : RequestOptions.Text(option.Meaning, needed), option.Meaning, words, needed);
    }

    private AnsweredBy Confirm(string name, string meaning)
    {
        var (by, answer) = asking.Ask("confirm", name, $"{meaning.TrimEnd('.')}? yes or no; empty for no.", [meaning + "."], typed =>
            typed.Length == 0 || PlainWords.IsSo(typed) || IsNo(typed) ? null : new Problem($"'{PlainText.Of(typed)}' is no answer here", "Answer yes or no"));
        return by is AnsweredBy.Answer ? Keep(name, PlainWords.IsSo(answer) ? Yes : "") : by;
    }

    private AnsweredBy Ask(string name, string kind, string text, string meaning, ImmutableArray<string> words, bool needed)
    {
        var listed = words.IsEmpty || words.All(word => meaning.Contains(word, StringComparison.Ordinal)) ? "" : words.Length <= MostWords ? $" One of: {string.Join(", ", words)}." : " help names them all.";
        var (by, answer) = asking.Ask(kind, name, text + listed, [meaning.TrimEnd('.') + ".", .. words], typed =>
            typed.Length == 0 ? needed ? new Problem("this one is needed", "Answer it, or Q puts the request aside") : null
            : !needed && kind is not "text" && IsNo(typed) ? null
            : RequestOptions.IsClosed(name) && !words.IsEmpty && !words.Contains(Meant(words, typed)) ? new Problem($"'{PlainText.Of(typed)}' is none of the words", "Answer with one of those that the question or help names")
            : name == "port" ? here.NoPort(Meant(words, typed))
            : kind == "number" && !typed.Any(char.IsAsciiDigit) ? new Problem($"'{PlainText.Of(typed)}' is no number", "Answer with a number") : null);
        if (by is not AnsweredBy.Answer)
            return by;
        if (name == Person && HandStudy.OddHandle(answer) is { } odd && !Doubt.IsKept(asking, name, odd))
            return Ask(name, kind, text, meaning, words, needed);
        return Keep(name, !needed && kind is not "text" && IsNo(answer) ? "" : Meant(words, answer));
    }

    // What has a usual value is told only by whoever names it.
    private AnsweredBy AskMore(ImmutableArray<CommandTree.Choice> rest)
    {
        if (rest.IsEmpty)
        {
            complete = true;
            return AnsweredBy.Answer;
        }

        var words = rest.Select(Name).ToImmutableArray();
        var (by, answer) = asking.Ask(
            "choose", More, $"Anything else to be told? One of: {string.Join(", ", words)}; empty for nothing, and it is carried out.", [.. rest.Select(option => $"{Name(option)}: {option.Meaning}.")],
            typed => typed.Length == 0 || IsNo(typed) || words.Contains(Meant(words, typed)) ? null : new Problem($"'{PlainText.Of(typed)}' is no answer here", "Answer with one of the words in the question, or with an empty line"));
        if (by is not AnsweredBy.Answer)
            return by;
        complete = answer.Length == 0 || IsNo(answer);
        return complete ? by : Asked(rest.First(option => Name(option) == Meant(words, answer)));
    }

    // A step back from it leads to the choice again.
    private AnsweredBy Asked(CommandTree.Choice option) => Ask(option) is var by && by is AnsweredBy.Back ? AnsweredBy.Answer : by;

    private AnsweredBy Keep(string name, string answer)
    {
        answers[name] = answer;
        order.Add(name);
        return AnsweredBy.Answer;
    }

    private static bool IsNo(string answer) => PlainWords.IsNo(answer) || PlainWords.Is(answer, "none");

    // The word that was begun, where it can be but one; what is no word of the list is judged by the request.
    private static string Meant(ImmutableArray<string> words, string typed)
    {
        if (typed.Length == 0 || words.FirstOrDefault(word => PlainWords.Is(word, typed)) is { } whole && whole.Length > 0)
            return words.FirstOrDefault(word => PlainWords.Is(word, typed)) ?? typed;
        var begun = words.Where(word => word.StartsWith(typed, StringComparison.OrdinalIgnoreCase)).ToArray();
        return begun.Length == 1 ? begun[0] : typed;
    }

    private List<string> Typed(ImmutableArray<CommandTree.Choice> options)
    {
        var words = new List<string>();
        foreach (var option in options)
        {
            if (answers.GetValueOrDefault(Name(option)) is { Length: > 0 } answer)
                words.AddRange(Typed(option, answer));
        }

        var arguments = node.Arguments.SelectMany(argument => answers[Name(argument)] is { Length: > 0 } answer ? argument.Many ? Parts(answer) : [answer] : []).ToArray();
        // What begins with a dash is a word too.
        return [.. words, .. arguments.Length > 0 ? (ReadOnlySpan<string>)["--", .. arguments] : []];
    }

    private IEnumerable<string> Typed(CommandTree.Choice option, string answer) => (node.Trail, option.Name) switch
    {
        ("rehearse", "--walk") => PlainWords.Is(answer, "all") ? [option.Name] : [option.Name, .. Parts(answer)],
        ("rehearse", "--keep") => [option.Name, "--store", answer],
        _ => option.Value is null ? [option.Name] : [$"{option.Name}={answer}"],
    };

    // Words in double quotes are one.
    private static IEnumerable<string> Parts(string text) => text.Split('"')
        .SelectMany((part, i) => i % 2 == 1 ? [part] : part.Split(' ', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries));
}
