using System.Runtime.InteropServices;
using System.Text;
using Commission.Adapters.Files;
using Commission.Adapters.Storage;
using Commission.App.CommandLine;
using Commission.App.Plain;
using Commission.App.Rehearsal;
using Commission.App.Screens;
using Commission.Workshop.Controllers;
using Commission.Workshop.Ports;
using Commission.Workshop.Requests;

namespace Commission.App;

/// <summary>Puts the program together and keeps the promise that every ending has its exit code.</summary>
internal static class Composition
{
    /// <summary>Runs the program.</summary>
    /// <returns>The exit code.</returns>
    public static async Task<int> RunAsync(string[] arguments)
    {
        Console.OutputEncoding = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false);
        using var ending = new CancellationTokenSource();
        var here = Here(whole: !arguments.Contains("--json"));
        using var interrupt = PosixSignalRegistration.Create(PosixSignal.SIGINT, End);
        using var terminate = PosixSignalRegistration.Create(PosixSignal.SIGTERM, End);
        using var hangUp = PosixSignalRegistration.Create(PosixSignal.SIGHUP, End);
        using var quit = PosixSignalRegistration.Create(PosixSignal.SIGQUIT, End);
        // STOP goes out before anything else ends; the registrations above see to the end itself.
        using var stop = new StopOnExit(() => here.Link.Link);
        var work = Task.Run(() => Compose(here).RunAsync(arguments, ending.Token));
        // A read of standard input cannot be taken back; after a signal it is left behind.
        var first = await Task.WhenAny(work, Signalled(ending.Token)).ConfigureAwait(false);
        return first == work ? await work.ConfigureAwait(false) : ExitCode.Interrupted;

        void End(PosixSignalContext context)
        {
            context.Cancel = true;
            if (context.Signal == PosixSignal.SIGINT)
                here.Link.Interrupted();
            ending.Cancel();
        }
    }

    /// <summary>The command line with everything behind it.</summary>
    internal static Line Compose(Surroundings here) =>
        Compose(here, new Stores(ProgramVersion.Number, here.Clock) { Progress = here.InputIsTerminal ? new ProgressLine(here.Error) : null });

    // Practice by question and answer is the same line over another store and another port.
    private static Line Compose(Surroundings here, IStores stores)
    {
        var bench = new Workbench(here, new TextFiles(), stores);
        var library = new ProcedureLibrary(new ProcedureTexts(StorePlace.Procedures(here.DefaultStore)), bench.Files);
        var screens = new ScreenVerbs(bench, library, stores);
        Line line = null!;
        return line = new Line(
            here,
            [
                new MachineVerb(bench),
                new InstrumentVerb(bench),
                new ProcedureVerb(bench, library, screens),
                new FitVerb(bench),
                new ControllerVerb(bench),
                new PlanVerb(bench),
                new HistoryVerb(bench),
                new ReportVerb(bench, library),
                new ProveVerb(bench),
                new CompletionsVerb(bench),
                new ManualVerb(bench),
                .. here.Practice is null ? (ReadOnlySpan<IVerb>)[new RehearseVerb(bench, library, stores, screens, Compose)] : [],
            ],
            (parsed, cancellation) => parsed.GetValue(Common.Plain) ? new PlainBench(here, line).RunAsync(parsed, cancellation) : screens.Open(parsed, cancellation));
    }

    // Text for a person is kept from being cut inside words where lines are longer than the terminal; a pipe gets them as they are, and so does whoever reads JSON.
    private static Surroundings Here(bool whole) => new()
    {
        In = Console.In,
        Out = whole && !Console.IsOutputRedirected ? new WholeWords(Console.Out, Columns) : Console.Out,
        Error = whole && !Console.IsErrorRedirected ? new WholeWords(Console.Error, Columns) : Console.Error,
        InputIsTerminal = !Console.IsInputRedirected,
        OutputIsTerminal = !Console.IsOutputRedirected,
        DefaultStore = StorePlace.Default(),
    };

    private static int Columns()
    {
        try
        {
            return Console.WindowWidth;
        }
        catch (Exception error) when (error is IOException or PlatformNotSupportedException)
        {
            return 0;
        }
    }

    // Two seconds for a verb to end in its own way.
    private static async Task Signalled(CancellationToken ending)
    {
        var signalled = new TaskCompletionSource();
        await using var registration = ending.Register(signalled.SetResult).ConfigureAwait(false);
        await signalled.Task.ConfigureAwait(false);
        await Task.Delay(TimeSpan.FromSeconds(2), CancellationToken.None).ConfigureAwait(false);
    }
}
