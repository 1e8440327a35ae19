using System.Diagnostics;
using System.IO.Ports;
using System.Runtime.Versioning;
using System.Text;
using Commission.Adapters.Serial;
using Commission.Core;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;
using Commission.Practice.Controller;
using Commission.Workshop.Controllers;
using Commission.Workshop.Ports;
using Commission.Workshop.Requests;

namespace Commission.Proof.Link;

/// <summary><c>link-speed [--short] [--load N]</c>: what the link costs, as ratios within one run, over a pseudo-terminal and the system's port code.</summary>
[UnsupportedOSPlatform("windows")]
internal static class LinkSpeedCommand
{
    /// <summary>First word of the command line of the process that plays the board.</summary>
    internal const string BoardWord = "link-board";

    /// <summary>First word of the command line of a process that keeps the machine busy.</summary>
    internal const string LoadWord = "link-load";

    private const double LatestStopMs = 100;
    private const double LeastStatesPerS = 10;
    private const double MostOfACore = 0.04;
    private const double MostRoundTrip = 1.3;

    /// <summary>Runs it.</summary>
    /// <param name="brief">The short form.</param>
    /// <param name="load">Number of processes that do nothing but keep the machine busy meanwhile, each with the priority of this one.</param>
    internal static int Run(bool brief, int load)
    {
        if (load > 0)
            return Loaded(brief, load);
        var table = new ProofTable("Link: STOP, live state and round trip over a pseudo-terminal", "  medians unless said otherwise", "what", "ours", "goal", "unit");
        foreach (var name in ShippedDialects.Names)
            Stops(table, name, brief ? 4 : 40).GetAwaiter().GetResult();
        using var board = Started(BoardWord, "numbered-settings");
        var port = board.StandardOutput.ReadLine()!;
        Trips(table, port, brief ? 60 : 600).GetAwaiter().GetResult();
        Watching(table, port, TimeSpan.FromSeconds(brief ? 4 : 20)).GetAwaiter().GetResult();
        board.StandardInput.Close();
        board.WaitForExit(2000);
        return table.Show();
    }

    /// <summary>Only STOP: the rest is told of a quiet machine.</summary>
    private static int Loaded(bool brief, int load)
    {
        var table = new ProofTable(string.Create(CultureInfo.InvariantCulture, $"Link: STOP beside {load} busy processes on {Environment.ProcessorCount} cores"), "  worst of all", "what", "ours", "goal", "unit");
        var busy = Enumerable.Range(0, load).Select(_ => Started(LoadWord)).ToList();
        foreach (var name in ShippedDialects.Names)
            Stops(table, name, brief ? 10 : 100).GetAwaiter().GetResult();
        foreach (var one in busy)
        {
            one.StandardInput.Close();
            one.WaitForExit(5000);
            one.Dispose();
        }

        return table.Show();
    }

    /// <summary>Keeps one core busy until its input ends.</summary>
    internal static int Load()
    {
        var ended = false;
        new Thread(() =>
        {
            Console.In.ReadToEnd();
            Volatile.Write(ref ended, true);
        })
        { IsBackground = true }.Start();
        while (!Volatile.Read(ref ended))
            Thread.SpinWait(1000);
        return 0;
    }

    /// <summary>Plays the board in a process of its own until its input ends, so that what the link costs can be told apart.</summary>
    internal static int Board(string dialect)
    {
        using var terminal = new PseudoTerminal(new PracticeController(ShippedDialects.Find(dialect)!, new ControllerBody([420, 580, 90], [200, 300, 60])));
        Console.Out.WriteLine(terminal.Path);
        Console.Out.Flush();
        Console.In.ReadToEnd();
        return 0;
    }

    private static Process Started(params string[] words) => Process.Start(new ProcessStartInfo(Environment.ProcessPath!, words)
    {
        RedirectStandardInput = true,
        RedirectStandardOutput = true,
    })!;

    private static async Task<ControllerLink> OpenAsync(ITransport port, string dialect)
    {
        var opened = await ControllerLink.OpenAsync(port, ShippedDialects.Find(dialect)!, ConnectController.NoMachine, TimeProvider.System, CancellationToken.None).ConfigureAwait(false);
        var link = opened.Require();
        await link.HeardAsync(TimeProvider.System, CancellationToken.None).ConfigureAwait(false);
        return link;
    }

    /// <summary>From the call to the byte on the board's side: at rest, with a line outstanding, and with listeners that block.</summary>
    private static async Task Stops(ProofTable table, string dialect, int repeats)
    {
        var board = new PracticeController(ShippedDialects.Find(dialect)!, new ControllerBody([420, 580, 90], [200, 300, 60]));
        using var terminal = new PseudoTerminal(board);
        var port = new WatchedWire(SerialTransport.Open(terminal.Path, 115200).Require());
        var link = await OpenAsync(port, dialect).ConfigureAwait(false);
        await using (link.ConfigureAwait(false))
        {
            var scenes = new (string Name, Func<Action> Prepare)[]
            {
                ("at rest", () => () => { }),
                ("a box is asked for", () =>
                {
                    link.Ask(new MotionAct.Unlock());
                    return link.Withdraw;
                }),
                ("a line waits for its answer", () =>
                {
                    terminal.Do(one => one.Inject(ControllerFault.MissingAcknowledgement));
                    var listing = link.SettingsAsync(CancellationToken.None);
                    return () => listing.Wait(TimeSpan.FromSeconds(8));
                }),
                ("the screen is busy", () =>
                {
                    void Busy(LinkSnapshot now) => Thread.Sleep(250);
                    link.Changed += Busy;
                    return () => link.Changed -= Busy;
                }),
            };
            foreach (var (name, prepare) in scenes)
            {
                var count = name.StartsWith("a line", StringComparison.Ordinal) ? Math.Max(2, repeats / 8) : repeats;
                var times = Enumerable.Range(0, count).Select(_ => StopOnce(link, port, board, prepare)).ToList();
                var (left, reached) = (times.Max(one => one.Left), times.Max(one => one.Reached));
                Row(table, string.Create(CultureInfo.InvariantCulture, $"STOP, {dialect}, {name}, worst (at the board {reached:F0} ms)"), left, LatestStopMs, "ms", left <= LatestStopMs);
            }
        }
    }

    /// <summary>Milliseconds from the call until the system had the bytes, and until the board had taken them; the board's thread is as much subject to the load.</summary>
    private static (double Left, double Reached) StopOnce(ControllerLink link, WatchedWire port, PracticeController board, Func<Action> prepare)
    {
        using var arrived = new ManualResetEventSlim();
        var at = 0L;
        void Arrived()
        {
            at = Stopwatch.GetTimestamp();
            arrived.Set();
        }

        var undo = prepare();
        board.StopTaken += Arrived;
        var began = 0L;
        // From a thread of its own, as a screen has one: the call is not to wait for a thread of the pool, nor this one for its return.
        var stopping = new Thread(() =>
        {
            began = Stopwatch.GetTimestamp();
            link.Stop("the operator pressed STOP");
        })
        { IsBackground = true };
        port.Watch();
        stopping.Start();
        var came = arrived.Wait(TimeSpan.FromSeconds(5)) & port.StopLeft.Wait(TimeSpan.FromSeconds(5));
        board.StopTaken -= Arrived;
        undo();
        stopping.Join(TimeSpan.FromSeconds(5));
        return came
            ? (Stopwatch.GetElapsedTime(began, port.LeftAt).TotalMilliseconds, Stopwatch.GetElapsedTime(began, at).TotalMilliseconds)
            : (double.PositiveInfinity, double.PositiveInfinity);
    }

    /// <summary>
    /// All settings asked for and received, through the link and by bare loops that write and read the same bytes on one thread. The goal is held
    /// against the loop over the framework's port, as anybody would write it. The loop over our own transport has no goal: beside it stands what
    /// the link adds to that transport, four changes of thread (to the dialogue, to the writing thread, its word that the line has left, the
    /// answer back to the dialogue), some 20 us each. They are the price of a STOP that waits for none of them.
    /// </summary>
    private static async Task Trips(ProofTable table, string port, int repeats)
    {
        var list = ShippedDialects.Find("numbered-settings")!.Settings.List;
        double loop;
        double transport;
        using (var bare = new SerialPort(port, 115200))
        {
            bare.Open();
            loop = await BareAsync(list, repeats, bare.BaseStream.ReadAsync, bare.BaseStream.WriteAsync).ConfigureAwait(false);
        }

        var own = SerialTransport.Open(port, 115200).Require();
        await using (own.ConfigureAwait(false))
            transport = await BareAsync(list, repeats, own.ReadAsync, own.WriteAsync).ConfigureAwait(false);
        var link = await OpenAsync(SerialTransport.Open(port, 115200).Require(), "numbered-settings").ConfigureAwait(false);
        await using (link.ConfigureAwait(false))
        {
            var ours = await MedianAsync(repeats, () => link.SettingsAsync(CancellationToken.None)).ConfigureAwait(false);
            Row(table, string.Create(CultureInfo.InvariantCulture, $"round trip, {1e3 * ours:F2} ms, of a bare loop's {1e3 * loop:F2} ms"), ours / loop, MostRoundTrip, "x", ours <= MostRoundTrip * loop);
            table.Row(
                string.Create(CultureInfo.InvariantCulture, $"the same, of a bare loop's {1e3 * transport:F2} ms through our transport"),
                (ours / transport).ToString("0.###", CultureInfo.InvariantCulture), "-", "x");
        }
    }

    private static async Task<double> BareAsync(
        string list, int repeats, Func<Memory<byte>, CancellationToken, ValueTask<int>> read, Func<ReadOnlyMemory<byte>, CancellationToken, ValueTask> write)
    {
        var buffer = new byte[4096];
        return await MedianAsync(repeats, async () =>
        {
            // A read already waits when the line leaves: the quicker order on the framework's port.
            var reading = read(buffer, CancellationToken.None);
            await write(Encoding.Latin1.GetBytes(list + "\n"), CancellationToken.None).ConfigureAwait(false);
            for (var seen = ""; ; reading = read(buffer, CancellationToken.None))
            {
                seen += Encoding.Latin1.GetString(buffer, 0, await reading.ConfigureAwait(false));
                if (seen.Contains("ok\r\n", StringComparison.Ordinal))
                    return;
            }
        }).ConfigureAwait(false);
    }

    private static async Task Watching(ProofTable table, string port, TimeSpan time)
    {
        var idle = await CoreAsync(() => Task.Delay(time)).ConfigureAwait(false);
        var link = await OpenAsync(SerialTransport.Open(port, 115200).Require(), "numbered-settings").ConfigureAwait(false);
        await using (link.ConfigureAwait(false))
        {
            var states = new HashSet<TimeSpan>();
            var busy = await CoreAsync(() => new WatchController(TimeProvider.System).RunAsync(link, time, (now, _) => states.Add(now.Gate.ReportAt), CancellationToken.None)).ConfigureAwait(false);
            var rate = states.Count / time.TotalSeconds;
            Row(table, "live state", rate, LeastStatesPerS, "1/s", rate >= LeastStatesPerS);
            Row(table, "share of a core it adds", busy - idle, MostOfACore, "1", busy - idle <= MostOfACore);
        }
    }

    private static async Task<double> CoreAsync(Func<Task> work)
    {
        using var self = Process.GetCurrentProcess();
        var (before, began) = (self.TotalProcessorTime, Stopwatch.GetTimestamp());
        await work().ConfigureAwait(false);
        self.Refresh();
        return (self.TotalProcessorTime - before) / Stopwatch.GetElapsedTime(began);
    }

    private static async Task<double> MedianAsync(int repeats, Func<Task> work)
    {
        for (var warm = 0; warm < 5; warm++)
            await work().ConfigureAwait(false);
        var times = new List<double>();
        for (var i = 0; i < repeats; i++)
        {
            var began = Stopwatch.GetTimestamp();
            await work().ConfigureAwait(false);
            times.Add(Stopwatch.GetElapsedTime(began).TotalSeconds);
        }

        times.Sort();
        return times[times.Count / 2];
    }

    private static void Row(ProofTable table, string what, double ours, double goal, string unit, bool held)
    {
        table.Row(what, ours.ToString("0.###", CultureInfo.InvariantCulture), goal.ToString("0.###", CultureInfo.InvariantCulture), unit);
        table.Ask(what, string.Create(CultureInfo.InvariantCulture, $"{ours:0.###} {unit}, goal {goal:0.###}"), held);
    }
}
