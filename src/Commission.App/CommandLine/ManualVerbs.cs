using System.CommandLine;
using Commission.App.Manual;

namespace Commission.App.CommandLine;

/// <summary><c>completions SHELL</c>: what a shell needs to complete words, made from the declaration of the verbs.</summary>
internal sealed class CompletionsVerb(Workbench bench) : IVerb
{
    /// <inheritdoc/>
    public Command Declare()
    {
        var shell = new Argument<string>("SHELL") { Description = string.Join(", ", CompletionScripts.Shells) };
        shell.AcceptOnlyFromAmong([.. CompletionScripts.Shells]);
        var command = new Command("completions", "Print the completions for a shell") { shell };
        command.SetAction(parsed =>
        {
            var root = (RootCommand)parsed.RootCommandResult.Command;
            bench.Here.Out.Write(new CompletionScripts(CommandTree.Of(root), CommandTree.Everywhere(root)).For(parsed.GetValue(shell)!));
            return ExitCode.Done;
        });
        return command;
    }
}

/// <summary><c>manual</c>: the manual page, made from the declaration of the verbs.</summary>
internal sealed class ManualVerb(Workbench bench) : IVerb
{
    /// <inheritdoc/>
    public Command Declare()
    {
        var command = new Command("manual", "Print the manual page, to be read with man -l");
        command.SetAction(parsed =>
        {
            var root = (RootCommand)parsed.RootCommandResult.Command;
            bench.Here.Out.Write(ManualPage.Write(CommandTree.Of(root), CommandTree.Everywhere(root), ProgramVersion.Number));
            return ExitCode.Done;
        });
        return command;
    }
}
