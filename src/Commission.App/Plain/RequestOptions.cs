using System.Collections.Immutable;
using Commission.App.Manual;
using Commission.Workshop.Requests;

namespace Commission.App.Plain;

/// <summary>Which options of a request are asked for one after another, and which only where somebody names them.</summary>
internal static class RequestOptions
{
    private const string Port = "port", Sheet = "sheet", Like = "like", StepsPerMm = "steps-per-mm", StepsPerInch = "steps-per-inch";

    private static readonly ImmutableHashSet<string> Links = ["dialect", "baud", "timeout", "no-control-lines", "record"];

    // What is usually told, whatever the request; the rest has a usual value.
    private static readonly ImmutableHashSet<string> Usual =
    [
        "file", Like, "kind", "limit-mm", "resolution-mm", "range-mm", "source", "cable", "block-limit", "axis", "text", "reason", "about", "value", "settings", "out", "to", "keep", "card", "catalogue", "all",
        Sheet, "handbook", Port, "dialect", "for", "trips", "seed", "walk", "instrument", "tolerance",
    ];

    /// <summary>Whether an option is asked for by itself.</summary>
    /// <param name="trail">The words of the request.</param>
    /// <param name="name">The option, without its dashes.</param>
    public static bool IsUsual(string trail, string name) => (trail.Split(' ')[0], name) switch
    {
        ("fit" or "plan", var one) => one is "axis" or "instrument" or "tolerance" or "keep",
        ("machine", var one) => one == "file",
        // The run itself asks for its axis, takes the instrument from the kit and the limit from the class of work.
        ("procedure", var one) when trail.EndsWith(" run", StringComparison.Ordinal) => one is Port or "dialect",
        ("controller", StepsPerMm or StepsPerInch) => true,
        (_, var one) => Usual.Contains(one),
    };

    /// <summary>Whether an option can be told at all after what was told before.</summary>
    /// <param name="trail">The words of the request.</param>
    /// <param name="name">The option, without its dashes.</param>
    /// <param name="told">What was told, by the names of options and arguments; flags that were answered with yes among it.</param>
    public static bool MayBeTold(string trail, string name, IReadOnlyDictionary<string, string> told) => name switch
    {
        _ when Links.Contains(name) && trail is not "" => told.ContainsKey(Port),
        "kind" or "limit-mm" or "resolution-mm" or "range-mm" or "source" when trail == "instrument add" => !told.ContainsKey(Like),
        StepsPerInch when trail.StartsWith("controller", StringComparison.Ordinal) => !told.ContainsKey(StepsPerMm),
        "instrument" or "out" or "axis" when trail == "procedure show" => told.ContainsKey(Sheet),
        "axis" when trail == "procedure run" => false,
        // The number of a ratio is that of an axis.
        "value" when trail == "history change" => told.ContainsKey("axis") && told.GetValueOrDefault("word") == ChangedNumber.StepsChanged,
        "handbook" => !told.ContainsKey(Sheet),
        "settings" => !told.ContainsKey("kind"),
        "value" or "axis" when trail == "history adopt" => told.ContainsKey("kind"),
        _ => trail.Split(' ')[0] != "machine" || name == "file",
    };

    /// <summary>Whether a request is refused without an option.</summary>
    public static bool IsNeeded(string trail, CommandTree.Choice option) => option.Needed || (trail, option.Name) switch
    {
        ("controller settings save", "--out") or ("controller settings write", "--axis") => true,
        ({ } words, "--port" or "--dialect") => words.StartsWith("controller", StringComparison.Ordinal),
        _ => false,
    };

    /// <summary>The option with its meaning as it is asked for: a few are asked for in other words than they are typed.</summary>
    public static CommandTree.Choice AsAsked(string trail, CommandTree.Choice option) => (trail, option.Name) switch
    {
        ("rehearse", "--walk") => option with { Meaning = "Ids of the procedures that the simulated operator carries out, or all; empty: you read and answer yourself", Values = [] },
        ("rehearse", "--keep") => option with { Meaning = "Folder of its own in which the practice store is kept; empty: it is thrown away at the end", Value = "DIR" },
        ("machine new" or "machine edit", "--file") => option with { Meaning = "A file with the description, as in the guide to machine files; empty: it is asked for question by question" },
        _ => option,
    };

    /// <summary>Whether nothing but its words answers a question: what it is of own instruments, procedures and files only the request knows.</summary>
    /// <param name="name">The option or argument.</param>
    public static bool IsClosed(string name) => name is "axis" or "word" or "what" or "kind" or "shell";

    /// <summary>How an option is asked for.</summary>
    public static string KindOf(CommandTree.Choice option) => option switch
    {
        { Value: null } => "confirm",
        { Values.IsEmpty: false } or { Name: "--axis" } => "choose",
        { Value: "NUMBER" or "N" or "S" or "V" } => "number",
        _ => "text",
    };

    /// <summary>What an option means, as a question.</summary>
    public static string Text(string meaning, bool needed)
    {
        var words = meaning.Replace("With --sheet: ", "", StringComparison.Ordinal).Replace("omitted:", "empty:", StringComparison.Ordinal).TrimEnd('.');
        words = char.ToUpperInvariant(words[0]) + words[1..];
        return needed ? words + "." : words.Contains("empty:", StringComparison.Ordinal) ? words + "." : words + ". Empty for none.";
    }
}
