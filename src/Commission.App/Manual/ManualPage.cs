using System.Collections.Immutable;
using System.Text;

namespace Commission.App.Manual;

/// <summary>The manual page of section 1, in the macros every Unix has.</summary>
internal static class ManualPage
{
    private static readonly (string Code, string Meaning)[] Endings =
    [
        ("0", "Done, and within tolerance where a verdict was asked for."),
        ("1", "Outside tolerance, or something compared differs or falls short."),
        ("2", "The request or the input is bad; nothing was changed."),
        ("3", "Undecided."),
        ("4", "Controller or store failed; nothing confirmed is lost."),
        ("5", "A defect in the program."),
        ("130", "Ended by a signal."),
    ];

    // The folders of StorePlace, as a reader of the page finds them.
    private static readonly (string File, string Meaning)[] Files =
    [
        ("$XDG_DATA_HOME/commission/store", "The store where --store names no other: the journal, its index and its copies. Where the variable is not set: ~/.local/share; on Windows and macOS the folder of local application data."),
        ("$XDG_DATA_HOME/commission/procedures", "Procedures of your own, one file each; procedure list shows them beside those that ship."),
    ];

    /// <summary>The page; lines end with a line feed.</summary>
    /// <param name="nodes">All commands.</param>
    /// <param name="everywhere">The options that stand everywhere.</param>
    /// <param name="version">Version of the program.</param>
    public static string Write(ImmutableArray<CommandTree.Node> nodes, ImmutableArray<CommandTree.Choice> everywhere, string version)
    {
        var text = new StringBuilder();
        text.Append(".TH COMMISSION 1 \"\" \"commission ").Append(version).Append("\"\n.SH NAME\ncommission \\- commission a self-built three-axis gantry router\n");
        text.Append(".SH SYNOPSIS\n.B commission\n.RI [ VERB ]\n.RI [ OPTIONS ]\n.SH DESCRIPTION\n");
        Paragraph(text, nodes[0].Meaning + " Without a verb the bench opens.");
        text.Append(".SH OPTIONS EVERYWHERE\n");
        Options(text, everywhere);
        text.Append(".SH VERBS\n");
        foreach (var node in nodes.Where(node => node.Trail.Length > 0 && node.Verbs.IsEmpty))
            Verb(text, node);
        text.Append(".SH FILES\n");
        foreach (var (file, meaning) in Files)
            text.Append(".TP\n.I ").Append(Escaped(file)).Append('\n').Append(Escaped(meaning)).Append('\n');
        text.Append(".SH EXIT STATUS\n");
        foreach (var (code, meaning) in Endings)
            text.Append(".TP\n.B ").Append(code).Append('\n').Append(Escaped(meaning)).Append('\n');
        text.Append(".SH DANGER\n");
        Paragraph(text, "The program says what was checked, by whom and when, and what was not. It never says that a machine is free of danger. The only emergency stop is the one wired into the machine.");
        return text.ToString();
    }

    private static void Verb(StringBuilder text, CommandTree.Node node)
    {
        text.Append(".SS ").Append(Escaped(node.Trail));
        foreach (var argument in node.Arguments)
            text.Append(' ').Append(Escaped(argument.Needed ? argument.Name : $"[{argument.Name}]"));
        text.Append('\n');
        Paragraph(text, node.Meaning);
        foreach (var argument in node.Arguments)
            text.Append(".TP\n.I ").Append(Escaped(argument.Name)).Append('\n').Append(Escaped(argument.Meaning)).Append('\n');
        Options(text, node.Options);
    }

    private static void Options(StringBuilder text, ImmutableArray<CommandTree.Choice> options)
    {
        foreach (var option in options)
        {
            text.Append(".TP\n.B ").Append(Escaped(option.Name));
            if (option.Value is not null)
                text.Append(" \\fI").Append(Escaped(option.Value)).Append("\\fR");
            text.Append('\n').Append(Escaped(option.Meaning)).Append('\n');
        }
    }

    private static void Paragraph(StringBuilder text, string words) => text.Append(".PP\n").Append(Escaped(words)).Append('\n');

    // A hyphen that is typed, a backslash, and a line that would begin as a macro.
    private static string Escaped(string words)
    {
        var clean = words.Replace("\\", "\\e", StringComparison.Ordinal).Replace("-", "\\-", StringComparison.Ordinal);
        return clean is ['.' or '\'', ..] ? "\\&" + clean : clean;
    }
}
