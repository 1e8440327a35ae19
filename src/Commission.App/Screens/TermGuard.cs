using System.Runtime.InteropServices;
using System.Text;

namespace Commission.App.Screens;

/// <summary>Gives the terminal back after every kind of end, and before a suspension: the library does so only when it is disposed of in order.</summary>
internal static class TermGuard
{
    // Mouse reports, bracketed paste, keyboard protocol, form of the cursor, colours and the other screen off; cursor on.
    private const string Undo = "\x1b[?1003l\x1b[?1015l\x1b[?1006l\x1b[?2004l\x1b[<u\x1b[0 q\x1b[0m\x1b[?1049l\x1b[?25h";

    // The other way round, after a suspension; the last one takes the number pad out of its application mode, in which digits do not arrive.
    private const string Redo = "\x1b[?1049h\x1b[?25l\x1b[?1003h\x1b[?1015h\x1b[?1006h\x1b[?2004h\x1b>";

    // Longer than any turn of a screen that is not blocked.
    private static readonly TimeSpan LongestTurn = TimeSpan.FromMilliseconds(250);

    private static readonly TimeSpan OrderlyEnd = TimeSpan.FromSeconds(2);

    // After a hang-up the library's input task never sees the end of the file: an orderly end does not come.
    private static readonly TimeSpan EndAfterHangUp = TimeSpan.FromMilliseconds(300);

    private static PosixSignalRegistration[] _signals = [];
    private static Action _leave = () => { };
    private static Action _suspend = () => { };
    private static Action _resume = () => { };
    private static Action _resized = () => { };
    private static Action<string> _stopMotion = _ => { };
    private static readonly ManualResetEventSlim Halted = new();

    private static TerminalModes? _before;
    private static TerminalModes? _raw;
    private static int _given = 1;
    private static int _screenThread;
    private static bool _taken;
    private static volatile bool _halt;
    private static volatile bool _signalled;

    /// <summary>Runs the screens; the terminal is restored whatever happens inside.</summary>
    /// <param name="stopMotion">Sends STOP if a move is under way; called first at every end, from any thread.</param>
    /// <param name="body">The screens.</param>
    /// <returns>The exit code of the body; 130 after a signal, 5 after a defect.</returns>
    public static int Run(Action<string> stopMotion, Func<int> body)
    {
        (_stopMotion, _before, _raw, _signalled) = (stopMotion, TerminalModes.Now(), null, false);
        (_leave, _suspend, _resume, _resized) = (() => { }, () => { }, () => { }, () => { });
        (_screenThread, _halt, _given, _taken) = (Environment.CurrentManagedThreadId, false, 0, true);
        Halted.Reset();
        // Before the screens take the terminal: the runtime keeps its modes of this moment, and puts them back when it is let go on.
        HookSignals();
        AppDomain.CurrentDomain.UnhandledException += OnUnhandled;
        AppDomain.CurrentDomain.ProcessExit += OnExit;
        try
        {
            var code = body();
            return _signalled && code == 0 ? 130 : code;
        }
#pragma warning disable CA1031 // The last line of defence: the trace is printed on the restored screen.
        catch (Exception error)
#pragma warning restore CA1031
        {
            stopMotion("the program broke");
            Emergency();
            Console.Error.WriteLine(error);
            return 5;
        }
        finally
        {
            foreach (var signal in _signals)
                signal.Dispose();
            _signals = [];
            AppDomain.CurrentDomain.UnhandledException -= OnUnhandled;
            AppDomain.CurrentDomain.ProcessExit -= OnExit;
            Emergency();
        }
    }

    /// <summary>Says how the screens end and are suspended in order, once they stand. Signals stop the motion first; what takes too long is ended hard.</summary>
    /// <param name="leave">Asks the screens to end; called on a thread of the runtime.</param>
    /// <param name="suspend">Asks the screen's thread to call <see cref="Suspend"/>.</param>
    /// <param name="resume">Asks the screen's thread to call <see cref="Resume"/> and to draw everything anew.</param>
    /// <param name="resized">Asks the screen's thread to draw everything anew.</param>
    public static void Standing(Action leave, Action suspend, Action resume, Action resized) =>
        (_raw, _leave, _suspend, _resume, _resized) = (TerminalModes.Now(), leave, suspend, resume, resized);

    /// <summary>The program was told to end.</summary>
    /// <param name="hungUp">Whether the terminal is gone.</param>
    public static void Leave(bool hungUp)
    {
        _signalled = true;
        _stopMotion("the program was told to end");
        _leave();
        new Thread(() =>
        {
            Thread.Sleep(hungUp ? EndAfterHangUp : OrderlyEnd);
            Emergency();
            Environment.Exit(130);
        })
        { IsBackground = true }.Start();
    }

    /// <summary>Gives the terminal back and stops the process until it is let go on; on the screen's thread.</summary>
    public static void Suspend()
    {
        if (OperatingSystem.IsWindows())
            return;
        Write(Undo);
        _before?.Restore();
        _taken = false;
        TerminalModes.StopProcess();
    }

    /// <summary>Takes the terminal again; on the screen's thread, which then draws everything. The shell's signal comes after it: what is switched on then is not switched on twice.</summary>
    /// <param name="keyboard">What switches the newer keyboard protocol on again; empty where the terminal has none.</param>
    public static void Resume(string keyboard)
    {
        _raw?.Restore();
        Write(_taken ? Redo : Redo + keyboard);
        _taken = true;
    }

    /// <summary>Called at the beginning of each turn of the screen: where another thread gives the terminal back, nothing may be drawn any more.</summary>
    public static void Turn()
    {
        if (!_halt)
            return;
        Halted.Set();
        Thread.Sleep(Timeout.Infinite);
    }

    /// <summary>Restores the terminal at once, from any thread, once; the program ends after it.</summary>
    public static void Emergency()
    {
        if (Interlocked.Exchange(ref _given, 1) != 0)
            return;
        if (Environment.CurrentManagedThreadId != _screenThread)
        {
            _halt = true;
            Halted.Wait(LongestTurn);
        }

        Write(Undo);
        _before?.Restore();
    }

    private static void HookSignals()
    {
        static void End(PosixSignalContext signal)
        {
            signal.Cancel = true;
            Leave(hungUp: signal.Signal == PosixSignal.SIGHUP);
        }

        _signals = [.. new[] { PosixSignal.SIGTERM, PosixSignal.SIGHUP, PosixSignal.SIGINT, PosixSignal.SIGQUIT }.Select(signal => PosixSignalRegistration.Create(signal, End))];
        if (OperatingSystem.IsWindows())
            return;
        _signals =
        [
            .. _signals,
            PosixSignalRegistration.Create(PosixSignal.SIGTSTP, signal =>
            {
                signal.Cancel = true;
                _stopMotion("the program was suspended");
                _suspend();
            }),
            PosixSignalRegistration.Create(PosixSignal.SIGCONT, _ => _resume()),
            // A window that becomes smaller and as large as before between two looks at its size has lost rows all the same.
            PosixSignalRegistration.Create(PosixSignal.SIGWINCH, _ => _resized()),
        ];
    }

    private static void Write(string text)
    {
        try
        {
            using var screen = OperatingSystem.IsWindows() || !Console.IsOutputRedirected ? Console.OpenStandardOutput() : File.OpenWrite("/dev/tty");
            screen.Write(Encoding.ASCII.GetBytes(text));
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException)
        {
            // The terminal is gone; there is nothing left to restore.
        }
    }

    private static void OnExit(object? sender, EventArgs e) => Emergency();

    // The runtime would end the process by an abort; the exit code of a defect is kept instead.
    private static void OnUnhandled(object sender, UnhandledExceptionEventArgs e)
    {
        _stopMotion("the program broke");
        Emergency();
        Console.Error.WriteLine(e.ExceptionObject);
        Environment.Exit(5);
    }
}
