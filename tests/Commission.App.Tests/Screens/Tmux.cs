using System.Diagnostics;

namespace Commission.App.Tests.Screens;

/// <summary>A real terminal of its own: keys go in as bytes, the screen comes out as text. Waits are polls with an end, never blind.</summary>
internal sealed class Tmux : IDisposable
{
    // Only so that what never comes is told.
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(2);

    // The same digits twice within a second are a device's; what is typed again comes later than that.
    private static readonly TimeSpan TypedAgain = TimeSpan.FromMilliseconds(1200);

    // A box is read for half a second before its letter counts.
    private static readonly TimeSpan Reading = TimeSpan.FromMilliseconds(800);

    // A letter that counts changes the screen sooner than that.
    private static readonly TimeSpan Taken = TimeSpan.FromSeconds(10);

    private readonly string _socket = "commission-" + Guid.NewGuid().ToString("N")[..8];

    /// <param name="width">Columns.</param>
    /// <param name="height">Rows.</param>
    /// <param name="command">What runs in it.</param>
    /// <param name="raw">File that takes the bytes as they leave the program; null for none.</param>
    public Tmux(int width, int height, string command, string? raw = null)
    {
        // What is to be taken down begins only when the taking has.
        Run("-f", "/dev/null", "new-session", "-d", "-x", $"{width}", "-y", $"{height}", raw is null ? command : "read begin; " + command);
        Run("set-option", "-g", "remain-on-exit", "on");
        if (raw is null)
            return;
        Run("pipe-pane", "-o", "cat > " + raw);
        Run("send-keys", "Enter");
    }

    /// <summary>The program as a word of the shell: the one of this build, or the published one that the environment names.</summary>
    public static string Program { get; } = $"\"{Environment.GetEnvironmentVariable("COMMISSION_PUBLISHED") ?? Path.Combine(AppContext.BaseDirectory, "commission")}\"";

    /// <summary>What stands before it where letters and sixteen colours are enough.</summary>
    public static string Plainly => "env LC_ALL=C TERM=screen-256color";

    public string Screen => Run("capture-pane", "-p");

    /// <summary>The screen with its colours, each row in its whole width.</summary>
    public string Coloured => Run("capture-pane", "-p", "-e", "-N");

    public string Until(Func<string, bool> shown, string what)
    {
        var watch = Stopwatch.StartNew();
        for (var screen = Screen; ; screen = Screen)
        {
            if (shown(screen))
                return screen;
            if (watch.Elapsed > Patience)
                throw new TimeoutException($"Never shown: {what}. The screen:\n{screen}");
            Thread.Sleep(20);
        }
    }

    /// <summary>Sends keys and waits until the screen has changed.</summary>
    public string Keys(params string[] keys)
    {
        var before = Screen;
        Run(["send-keys", .. keys]);
        Until(screen => screen != before, "a change after " + string.Join(' ', keys));
        return Quiet();
    }

    /// <summary>
    /// A frame may be caught half drawn, and stand so where the computer is busy. While the program draws, the cursor goes with what it writes;
    /// at rest it stands in the cell, or hidden in the corner. The screen counts once three looks in a row agree on one at rest.
    /// </summary>
    public string Quiet()
    {
        var (last, same) = ("", 0);
        return Until(
            screen =>
            {
                var look = screen + Cursor;
                (last, same) = (look, look == last ? same + 1 : 0);
                return same >= 3 && (look.EndsWith("0 0 0", StringComparison.Ordinal) || look.EndsWith('1'));
            },
            "a quiet screen");
    }

    /// <summary>Sends keys; what comes of them is waited for by the caller.</summary>
    public void Send(params string[] keys) => Run(["send-keys", .. keys]);

    /// <summary>Sends a key and waits for what it leads to.</summary>
    public void Press(string key, string shown)
    {
        Send(key);
        Until(screen => screen.Contains(shown, StringComparison.Ordinal), shown);
    }

    /// <summary>Reads a box and gives its letter, on a busy computer once more where it did nothing. The next box may stand there as soon as this one is gone.</summary>
    public void Confirm(string screen, string letter)
    {
        var box = Told(screen);
        do
        {
            if (!Stands(Reading, now => Told(now) == box))
                return;
            Send(letter.ToLowerInvariant());
        }
        while (Stands(Taken, now => Told(now) == box));
    }

    // All but the live strip and the keys: what changes by itself is not what was answered.
    private static string Told(string screen) => string.Join('\n', screen.Split('\n').Take(22));

    /// <summary>Types text into an empty cell, and again where it was taken for what a device sends twice.</summary>
    public string Literally(string text)
    {
        const string Twice = " arrived twice within a second";
        bool Typed(string screen) => screen.Contains(text + "_", StringComparison.Ordinal);
        Until(screen => !Typed(screen), "an empty cell");
        Run("send-keys", "-l", text);
        var shown = Until(screen => Typed(screen) || screen.Contains(text + Twice, StringComparison.Ordinal), text);
        if (Typed(shown))
            return shown;
        Stands(TypedAgain, _ => true);
        Run("send-keys", "-l", text);
        return Until(Typed, text);
    }

    /// <summary>Whether something stands on the screen for a time; false as soon as it does not.</summary>
    public bool Stands(TimeSpan time, Func<string, bool> stands)
    {
        for (var since = Stopwatch.StartNew(); since.Elapsed < time; Thread.Sleep(20))
        {
            if (!stands(Screen))
                return false;
        }

        return true;
    }

    public void Resize(int width, int height) => Run("resize-window", "-x", $"{width}", "-y", $"{height}");

    /// <summary>Resizes there and back, so quickly that a program which looks at the size now and then sees no change.</summary>
    public void ResizeAndBack(int width, int height, int backWidth, int backHeight) =>
        Run("resize-window", "-x", $"{width}", "-y", $"{height}", ";", "resize-window", "-x", $"{backWidth}", "-y", $"{backHeight}");

    private string Cursor => Ask("#{cursor_x} #{cursor_y} #{cursor_flag}");

    public string Ask(string format) => Run("display-message", "-p", format).Trim();

    public void Dispose() => Run("kill-server");

    private string Run(params string[] arguments)
    {
        var start = new ProcessStartInfo("tmux", ["-L", _socket, .. arguments]) { RedirectStandardOutput = true, RedirectStandardError = true };
        // The windows without a terminal set this for their own process; the program must not inherit it.
        start.Environment.Remove("DisableRealDriverIO");
        using var process = Process.Start(start)!;
        var text = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return text;
    }
}
