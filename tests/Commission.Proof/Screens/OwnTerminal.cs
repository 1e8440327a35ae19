using System.Diagnostics;
using System.Runtime.Versioning;
using System.Text;
using Commission.Practice.Controller;
using Microsoft.Win32.SafeHandles;

namespace Commission.Proof.Screens;

/// <summary>A program in a pseudo-terminal of 80 by 24: keys go in, what it writes comes out with its time. Nothing answers its questions about the terminal.</summary>
[SupportedOSPlatform("linux")]
internal sealed class OwnTerminal : IDisposable
{
    private const string Begin = "begin:";
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    private readonly FileStream _master;
    private readonly StringBuilder _written = new();
    private readonly Lock _gate = new();
    private readonly AutoResetEvent _more = new(false);
    private long _last;

    /// <summary>Starts the program; the time of the first frame counts from the moment at which it takes the place of the shell.</summary>
    public OwnTerminal(string program, params string[] words)
    {
        var (master, tty) = PseudoTerminal.Pair();
        _master = new FileStream(new SafeFileHandle(master, ownsHandle: true), FileAccess.ReadWrite, 1);
        var start = new ProcessStartInfo("setsid", ["sh", "-c", $"exec <>{tty} >&0 2>&0; stty cols 80 rows 24; printf {Begin}; exec \"$@\"", "sh", program, .. words]);
        foreach (var (variable, value) in new[] { ("TERM", "xterm-256color"), ("COLORTERM", "truecolor"), ("LC_ALL", "C.UTF-8") })
            start.Environment[variable] = value;
        Process = Process.Start(start)!;
        new Thread(Listen) { IsBackground = true }.Start();
        Began = Until(Begin);
    }

    /// <summary>The program, once it has taken the place of the shell.</summary>
    public Process Process { get; }

    /// <summary>When it began, monotonic.</summary>
    public long Began { get; }

    /// <summary>Writes what a keyboard would.</summary>
    public long Type(string keys)
    {
        lock (_gate)
            _written.Clear();
        var at = Stopwatch.GetTimestamp();
        _master.Write(Encoding.ASCII.GetBytes(keys));
        _master.Flush();
        return at;
    }

    /// <summary>When a text had come since the last key, monotonic.</summary>
    public long Until(string text)
    {
        for (var watch = Stopwatch.StartNew(); ;)
        {
            lock (_gate)
            {
                if (_written.ToString().Contains(text, StringComparison.Ordinal))
                    return _last;
            }

            _more.WaitOne(50);
            if (watch.Elapsed > Patience)
                throw new TimeoutException($"never written: {text}");
        }
    }

    /// <summary>Resident memory, MB of a million bytes.</summary>
    public double ResidentMb => 1024e-6 * double.Parse(
        File.ReadLines($"/proc/{Process.Id}/status").First(line => line.StartsWith("VmRSS:", StringComparison.Ordinal)).Split(' ', StringSplitOptions.RemoveEmptyEntries)[1], System.Globalization.CultureInfo.InvariantCulture);

    /// <summary>Share of a core over a time in which nothing is done.</summary>
    public double CoreShare(TimeSpan time)
    {
        Process.Refresh();
        var (before, began) = (Process.TotalProcessorTime, Stopwatch.GetTimestamp());
        Thread.Sleep(time);
        Process.Refresh();
        return (Process.TotalProcessorTime - before) / Stopwatch.GetElapsedTime(began);
    }

    public void Dispose()
    {
        // Left in order where it can be: a store that was not closed has its index made anew at the next opening.
        if (!Process.HasExited)
            Type("q");
        if (!Process.WaitForExit(2000))
            Process.Kill();
        Process.WaitForExit();
        Process.Dispose();
        _master.Dispose();
        _more.Dispose();
    }

    private void Listen()
    {
        var buffer = new byte[65536];
        try
        {
            while (_master.Read(buffer) is var count and > 0)
            {
                lock (_gate)
                    (_last, _) = (Stopwatch.GetTimestamp(), _written.Append(Encoding.Latin1.GetString(buffer, 0, count)));
                _more.Set();
            }
        }
        catch (Exception error) when (error is IOException or ObjectDisposedException)
        {
            // The program has ended, and its side of the terminal with it.
        }
    }
}
