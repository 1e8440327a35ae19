using System.CommandLine;
using System.CommandLine.Completions;
using System.Globalization;
using System.Numerics;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.Machines;
using Commission.Core.Quantities;

namespace Commission.App.CommandLine;

/// <summary>The options that stand everywhere.</summary>
internal static class Common
{
    /// <summary>The machine meant.</summary>
    public static readonly Option<string?> Machine = Everywhere<string?>("--machine", "NAME", "The machine meant; omitted: the only one in the store");

    /// <summary>The store.</summary>
    public static readonly Option<string?> Store = Everywhere<string?>("--store", "DIR", "The folder of the store");

    /// <summary>Whether the answer is JSON.</summary>
    public static readonly Option<bool> Json = Everywhere<bool>("--json", null, "Answer as JSON on standard output");

    /// <summary>Unit shown.</summary>
    public static readonly Option<string?> Units = OneOf(Everywhere<string?>("--units", "mm|in", "Unit in which lengths are shown and typed; JSON stays in mm"), ShownUnits.Words);

    /// <summary>Question and answer.</summary>
    public static readonly Option<bool> Plain = Everywhere<bool>("--plain", null, "No colour, ASCII, question and answer");

    /// <summary>Whether settings are confirmed beforehand.</summary>
    public static readonly Option<bool> Yes = Everywhere<bool>("--yes", null, "Accept confirmations of settings; never of motion");

    /// <summary>A chain that was brought in; an option of the verbs that look into the past.</summary>
    public static Option<string?> Chain() => new("--chain") { Description = "A chain that was brought in, by the id of its store; omitted: the store's own, or the one that knows the machine", HelpName = "STORE" };

    /// <summary>An option that names an axis.</summary>
    /// <param name="meaning">One line.</param>
    public static Option<string?> Axis(string meaning) => Offering(new Option<string?>("--axis") { Description = meaning, HelpName = "X|Y|Z" }, () => ["X", "Y", "Z"]);

    /// <summary>Tells a shell the usual words of an option or argument; others stay possible, and are judged where they are read.</summary>
    /// <param name="symbol">The option or argument.</param>
    /// <param name="words">The words; asked for only when completions are written, for some have to be read from what the program carries.</param>
    public static Option<T> Offering<T>(Option<T> symbol, Func<IEnumerable<string>> words)
    {
        symbol.CompletionSources.Add(_ => words().Select(word => new CompletionItem(word)));
        return symbol;
    }

    /// <inheritdoc cref="Offering{T}(Option{T}, Func{IEnumerable{string}})"/>
    public static Argument<T> Offering<T>(Argument<T> symbol, Func<IEnumerable<string>> words)
    {
        symbol.CompletionSources.Add(_ => words().Select(word => new CompletionItem(word)));
        return symbol;
    }

    /// <summary>An option as fits and plans declare it.</summary>
    public static Option<string?> Declared(OptionSpec spec) =>
        new("--" + spec.Name) { Description = spec.Meaning, HelpName = spec.IsNumber ? "NUMBER" : "WORD", Arity = spec.IsFlag ? ArgumentArity.Zero : ArgumentArity.ExactlyOne };

    /// <summary>A seed as it was typed; 1 where none was.</summary>
    public static Outcome<T> Seed<T>(string? typed)
        where T : struct, IBinaryInteger<T>
    {
        if (typed is null)
            return T.One;
        return T.TryParse(typed, NumberStyles.None, CultureInfo.InvariantCulture, out var seed)
            ? seed
            : new Problem($"--seed \"{Words.Clean(typed)}\" is not a whole number", "Give a whole number such as 7");
    }

    /// <summary>All of them.</summary>
    public static IReadOnlyList<Option> All => [Machine, Store, Json, Units, Plain, Yes];

    /// <summary>The units a request wants to see: those it names, else those of the machine it is about.</summary>
    /// <param name="parsed">The request.</param>
    /// <param name="machine">The machine; null where the request is about none.</param>
    public static ShownUnits Shown(ParseResult parsed, Machine? machine) =>
        parsed.GetValue(Units) is { } named ? ShownUnits.Named(named) : machine?.Units.Shown() ?? ShownUnits.Millimetres;

    private static Option<string?> OneOf(Option<string?> option, IEnumerable<string> words)
    {
        option.AcceptOnlyFromAmong([.. words]);
        return option;
    }

    private static Option<T> Everywhere<T>(string name, string? help, string meaning) => new(name) { Description = meaning, HelpName = help, Recursive = true };
}
