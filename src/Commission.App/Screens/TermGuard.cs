using System.Diagnostics;
using System.Runtime.InteropServices;
using System.Text;

namespace Commission.App.Screens;

/// <summary>Gives the terminal back after every kind of end: the library does so only when it is disposed of in order.</summary>
public static class TermGuard
{
    // Mouse reports, bracketed paste, keyboard protocol, colours and the other screen off; cursor on.
    private const string Undo = "\x1b[?1003l\x1b[?1015l\x1b[?1006l\x1b[?2004l\x1b[<u\x1b[0m\x1b[?1049l\x1b[?25h";

    private static readonly TimeSpan OrderlyEnd = TimeSpan.FromSeconds(2);

    private static PosixSignalRegistration[] _signals = [];
    private static Action _stopMotion = () => { };
    private static int _done;
    private static volatile bool _signalled;

    /// <summary>Runs the screens; the terminal is restored whatever happens inside.</summary>
    /// <param name="stopMotion">Sends STOP if a move is under way; called first at every end, from any thread.</param>
    /// <param name="body">The screens.</param>
    /// <returns>The exit code of the body; 130 after a signal, 5 after a defect.</returns>
    public static int Run(Action stopMotion, Func<int> body)
    {
        _stopMotion = stopMotion;
        _done = 0;
        _signalled = false;
        AppDomain.CurrentDomain.UnhandledException += OnUnhandled;
        try
        {
            var code = body();
            return _signalled && code == 0 ? 130 : code;
        }
#pragma warning disable CA1031 // The last line of defence: the trace is printed on the restored screen.
        catch (Exception error)
#pragma warning restore CA1031
        {
            stopMotion();
            Console.Error.WriteLine(error);
            return 5;
        }
        finally
        {
            AppDomain.CurrentDomain.UnhandledException -= OnUnhandled;
            foreach (var signal in _signals)
            {
                signal.Dispose();
            }

            _signals = [];
        }
    }

    /// <summary>Signals stop the motion, then the screens in order; if that takes too long, hard.</summary>
    /// <param name="leave">Asks the screens to end; called on a thread of the runtime.</param>
    public static void HookSignals(Action leave)
    {
        void Handle(PosixSignalContext signal)
        {
            signal.Cancel = true;
            _signalled = true;
            _stopMotion();
            leave();
            // After a hang-up the library's input task never sees the end of the file, so an orderly end may not come.
            new Thread(() =>
            {
                Thread.Sleep(OrderlyEnd);
                Emergency();
                Environment.Exit(130);
            })
            { IsBackground = true }.Start();
        }

        _signals =
        [
            PosixSignalRegistration.Create(PosixSignal.SIGTERM, Handle),
            PosixSignalRegistration.Create(PosixSignal.SIGHUP, Handle),
            PosixSignalRegistration.Create(PosixSignal.SIGINT, Handle),
        ];
    }

    /// <summary>Restores the terminal at once, from any thread, once.</summary>
    public static void Emergency()
    {
        if (Interlocked.Exchange(ref _done, 1) != 0)
        {
            return;
        }

        try
        {
            using var screen = OperatingSystem.IsWindows() || !Console.IsOutputRedirected ? Console.OpenStandardOutput() : File.OpenWrite("/dev/tty");
            screen.Write(Encoding.ASCII.GetBytes(Undo));
            if (!OperatingSystem.IsWindows())
            {
                using var sane = Process.Start("/bin/sh", ["-c", "stty sane </dev/tty"]);
                sane?.WaitForExit(500);
            }
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException or System.ComponentModel.Win32Exception)
        {
            // The terminal is gone; there is nothing left to restore.
        }
    }

    private static void OnUnhandled(object sender, UnhandledExceptionEventArgs e)
    {
        _stopMotion();
        Emergency();
        Console.Error.WriteLine(e.ExceptionObject);
    }
}
