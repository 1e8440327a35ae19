using System.Collections.Immutable;
using System.CommandLine;
using Commission.Core;

namespace Commission.App.CommandLine;

/// <summary>The command line: parses, runs the verb, and turns every ending into an exit code.</summary>
internal sealed class Line(Surroundings here, IReadOnlyList<IVerb> verbs, Func<ParseResult, CancellationToken, Task<int>> noVerb)
{
    // Parse errors are ours to print: the library would write help to standard output and exit with 1.
    private readonly InvocationConfiguration invocation = new()
    {
        EnableDefaultExceptionHandler = false,
        ProcessTerminationTimeout = null,
        Output = here.Out,
        Error = here.Error,
    };

    /// <summary>The root with all verbs.</summary>
    public RootCommand Root()
    {
        var root = new RootCommand("Commission leads a self-built three-axis gantry router from first power to a machine whose errors are known.");
        foreach (var option in Common.All)
            root.Add(option);
        foreach (var option in root.Options.OfType<VersionOption>())
            option.Action = new ShowVersion(here);
        foreach (var verb in verbs)
        {
            var command = verb.Declare();
            RefuseHalf(command);
            NameArguments(command);
            root.Add(command);
        }

        root.SetAction(noVerb);
        return root;
    }

    /// <summary>Runs one request.</summary>
    /// <returns>The exit code.</returns>
    public async Task<int> RunAsync(IReadOnlyList<string> arguments, CancellationToken cancellation)
    {
        var parsed = Root().Parse(arguments, new ParserConfiguration { ResponseFileTokenReplacer = null });
        var answer = new Answer(here, arguments.Contains("--json"));
        if (parsed.Errors.Count > 0)
            return answer.Problems([.. parsed.Errors.Select(error => Told(error.Message))]);
        try
        {
            return await parsed.InvokeAsync(invocation, cancellation).ConfigureAwait(false);
        }
        catch (OperationCanceledException) when (cancellation.IsCancellationRequested)
        {
            return ExitCode.Interrupted;
        }
        catch (IOException e)
        {
            return answer.Problem("a file or the store could not be used: " + e.Message, "Check the disk and try again; nothing that was confirmed is lost", ExitCode.Failed);
        }
#pragma warning disable CA1031 // The last resort: whatever was not foreseen is a defect, and is told as one.
        catch (Exception e)
#pragma warning restore CA1031
        {
            return answer.Problem($"a defect in the program: {e.GetType().Name}: {e.Message}", "Keep what you typed and report it; nothing that was confirmed is lost", ExitCode.Defect);
        }
    }

    // In help an argument has its name: all the words it may be would make every line of a list hundreds of columns long.
    private static void NameArguments(Command command)
    {
        foreach (var argument in command.Arguments)
            argument.HelpName ??= argument.Name;
        foreach (var inner in command.Subcommands)
            NameArguments(inner);
    }

    // "fit" alone is half a request: the words that may follow are named.
    private void RefuseHalf(Command command)
    {
        foreach (var inner in command.Subcommands)
            RefuseHalf(inner);
        if (command.Action is null)
        {
            var words = string.Join(", ", command.Subcommands.Select(inner => inner.Name));
            command.SetAction(parsed => new Answer(here, parsed.GetValue(Common.Json)).Problem(
                $"\"{command.Name}\" needs a further word", $"Write one of: {words}"));
        }
    }

    private static Problem Told(string message) => new(message.TrimEnd('.'), "See --help for what the request takes");

    private sealed class ShowVersion(Surroundings here) : System.CommandLine.Invocation.SynchronousCommandLineAction
    {
        public override bool Terminating => true;

        public override int Invoke(ParseResult parseResult)
        {
            here.Out.WriteLine(ProgramVersion.Line);
            return ExitCode.Done;
        }
    }
}
