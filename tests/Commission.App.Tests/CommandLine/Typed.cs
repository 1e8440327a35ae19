using Commission.App.CommandLine;

namespace Commission.App.Tests.CommandLine;

/// <summary>Runs requests as if typed, in process.</summary>
internal static class Typed
{
    /// <summary>What came of a request.</summary>
    /// <param name="Code">Exit code.</param>
    /// <param name="Out">Standard output.</param>
    /// <param name="Error">Standard error.</param>
    public sealed record Ending(int Code, string Out, string Error)
    {
        /// <summary>Lines of standard output.</summary>
        public string[] Lines => Out.Split('\n', StringSplitOptions.RemoveEmptyEntries);
    }

    /// <summary>Runs a request with nothing on standard input.</summary>
    public static Task<Ending> Run(params string[] arguments) => RunWith("", arguments);

    /// <summary>Runs a request with lines on standard input.</summary>
    public static Task<Ending> RunWith(string input, params string[] arguments) =>
        RunIn(Path.Combine(Path.GetTempPath(), "commission-tests-no-store"), input, arguments);

    /// <summary>Runs a request whose store lies in a folder of its own where none is named.</summary>
    public static async Task<Ending> RunIn(string store, string input, params string[] arguments)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        using var lines = new StringReader(input);
        var here = new Surroundings
        {
            In = lines,
            Out = output,
            Error = error,
            DefaultStore = store,
        };
        var code = await Composition.Compose(here).RunAsync(arguments, CancellationToken.None);
        return new Ending(code, output.ToString(), error.ToString());
    }
}
