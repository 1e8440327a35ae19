using Commission.Core;

namespace Commission.App.Screens;

/// <summary>What is known about the terminal before anything is drawn.</summary>
/// <param name="Attached">Whether keys and screen are a terminal.</param>
/// <param name="Term">The name the environment gives it; null where it gives none.</param>
/// <param name="Columns">Its width; 0 where unknown.</param>
/// <param name="Rows">Its height; 0 where unknown.</param>
/// <param name="NeedsName">Whether a terminal without a name is refused (everywhere but on Windows).</param>
public sealed record TerminalFacts(bool Attached, string? Term, int Columns, int Rows, bool NeedsName);

/// <summary>Decides whether the screens can be shown, and says the plain way where not.</summary>
public static class TerminalCheck
{
    /// <summary>Least size at which the screens start; below 80 by 24 they ask for a larger window.</summary>
    public const int LeastColumns = 60, LeastRows = 20;

    /// <summary>Why the screens cannot be shown; null where they can.</summary>
    public static Problem? Refusal(TerminalFacts facts)
    {
        var plain = "Use --plain: alone it asks for every request line by line, procedure run ID --plain for a run, rehearse --walk needs no keys, --help lists all";
        return facts switch
        {
            { Attached: false } => new("the screens need a terminal for keys and display, and there is none", plain),
            { Term: "dumb" } => new("this terminal calls itself dumb and cannot place text", plain),
            { NeedsName: true, Term: null or "" } => new("the environment does not name the terminal (TERM is empty)", plain),
            { Columns: > 0, Rows: > 0 } when facts.Columns < LeastColumns || facts.Rows < LeastRows =>
                new($"the window is smaller than {LeastColumns} by {LeastRows}", "Make it at least 80 by 24. " + plain),
            _ => null,
        };
    }

    /// <summary>The terminal this process has.</summary>
    public static TerminalFacts Here()
    {
        var attached = Terminal.Gui.Drivers.Driver.IsAttachedToTerminal(out _, out _);
        var (columns, rows) = (0, 0);
        try
        {
            (columns, rows) = attached ? (Console.WindowWidth, Console.WindowHeight) : (0, 0);
        }
        catch (Exception error) when (error is IOException or PlatformNotSupportedException)
        {
            // The size stays unknown; the window is measured again while it is shown.
        }

        return new(attached, Environment.GetEnvironmentVariable("TERM"), columns, rows, !OperatingSystem.IsWindows());
    }
}
