using System.Collections.Immutable;
using System.CommandLine;
using System.CommandLine.Completions;

namespace Commission.App.Manual;

/// <summary>The declaration of the verbs laid out as a list: what completions and the manual are written from.</summary>
internal static class CommandTree
{
    /// <summary>An option.</summary>
    /// <param name="Name">With its dashes.</param>
    /// <param name="Meaning">One line.</param>
    /// <param name="Value">What stands for its value in help; null where it takes none.</param>
    /// <param name="Values">The values it usually has, where they can be listed.</param>
    /// <param name="Needed">Whether the request is refused without it.</param>
    public sealed record Choice(string Name, string Meaning, string? Value, ImmutableArray<string> Values, bool Needed = false);

    /// <summary>An argument.</summary>
    /// <param name="Name">As in the help.</param>
    /// <param name="Meaning">One line.</param>
    /// <param name="Needed">Whether the request is refused without it.</param>
    /// <param name="Values">The words it usually is, where they can be listed.</param>
    /// <param name="Many">Whether it may be several words.</param>
    public sealed record Given(string Name, string Meaning, bool Needed, ImmutableArray<string> Values, bool Many = false);

    /// <summary>One command with the words that lead to it.</summary>
    /// <param name="Trail">Words after the program's name, parted by spaces; empty for the program itself.</param>
    /// <param name="Meaning">One line.</param>
    /// <param name="Verbs">Words that may follow, with their meaning.</param>
    /// <param name="Arguments">Arguments in order.</param>
    /// <param name="Options">Its own options.</param>
    public sealed record Node(string Trail, string Meaning, ImmutableArray<(string Word, string Meaning)> Verbs, ImmutableArray<Given> Arguments, ImmutableArray<Choice> Options)
    {
        /// <summary>What its arguments may be, where that can be listed.</summary>
        public IEnumerable<string> Values => Arguments.SelectMany(argument => argument.Values);

        /// <summary>Words that may follow its name: verbs and arguments first, then options, those that stand everywhere last.</summary>
        public IEnumerable<string> Words(ImmutableArray<Choice> everywhere) => [.. Verbs.Select(verb => verb.Word), .. Values, .. Options.Concat(everywhere).Select(option => option.Name).Distinct()];
    }

    /// <summary>All commands, the program itself first.</summary>
    public static ImmutableArray<Node> Of(RootCommand root) => [.. Under(root, "")];

    /// <summary>The options that stand everywhere.</summary>
    public static ImmutableArray<Choice> Everywhere(RootCommand root) => [.. root.Options.Select(Told)];

    private static IEnumerable<Node> Under(Command command, string trail)
    {
        var inner = command.Subcommands.Where(sub => !sub.Hidden).ToList();
        yield return new Node(
            trail,
            command.Description ?? "",
            [.. inner.Select(sub => (sub.Name, sub.Description ?? ""))],
            [.. command.Arguments.Select(argument => new Given(argument.Name, argument.Description ?? "", argument.Arity.MinimumNumberOfValues > 0, Words(argument.GetCompletions(CompletionContext.Empty)), argument.Arity.MaximumNumberOfValues > 1))],
            [.. command is RootCommand ? [] : command.Options.Select(Told)]);
        foreach (var node in inner.SelectMany(sub => Under(sub, trail.Length == 0 ? sub.Name : trail + " " + sub.Name)))
            yield return node;
    }

    private static Choice Told(Option option) => new(
        option.Name,
        option.Description ?? "",
        option.Arity.MaximumNumberOfValues == 0 || option.ValueType == typeof(bool) ? null : option.HelpName ?? "TEXT",
        option.ValueType == typeof(bool) ? [] : Words(option.GetCompletions(CompletionContext.Empty)),
        option.Required);

    private static ImmutableArray<string> Words(IEnumerable<CompletionItem> items) => [.. items.Select(item => item.Label)];
}
