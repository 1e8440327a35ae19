using System.Runtime.InteropServices;

namespace Commission.Workshop.Controllers;

/// <summary>Sends STOP first when the program is told to end or suspended, its terminal closes, or it breaks: if a move of ours is under way.</summary>
/// <remarks>It does not end the program and does not keep it from ending or sleeping; it only sees to it that the bytes are out before.</remarks>
public sealed class StopOnExit : IDisposable
{
    private static readonly TimeSpan Longest = TimeSpan.FromMilliseconds(500);

    private readonly Func<ControllerLink?> link;
    private readonly List<PosixSignalRegistration> signals = [];

    /// <param name="link">The link that is open; null where there is none.</param>
    public StopOnExit(Func<ControllerLink?> link)
    {
        this.link = link;
        foreach (var signal in new[] { PosixSignal.SIGINT, PosixSignal.SIGTERM, PosixSignal.SIGHUP, PosixSignal.SIGQUIT })
            signals.Add(PosixSignalRegistration.Create(signal, _ => StopIfMoving("the program was told to end")));
        // Who sleeps sees no key: Ctrl+Z in mid-move would leave the machine to itself.
        if (!OperatingSystem.IsWindows())
            signals.Add(PosixSignalRegistration.Create(PosixSignal.SIGTSTP, _ => StopIfMoving("the program was suspended")));
        AppDomain.CurrentDomain.UnhandledException += Broke;
    }

    /// <summary>Sends STOP if a move is under way and waits until its bytes are out.</summary>
    /// <returns>Whether STOP was sent.</returns>
    public bool StopIfMoving(string why) => link() is { } open && open.StopAndWait(why, Longest);

    private void Broke(object sender, UnhandledExceptionEventArgs what) => StopIfMoving("the program broke");

    /// <inheritdoc/>
    public void Dispose()
    {
        AppDomain.CurrentDomain.UnhandledException -= Broke;
        signals.ForEach(one => one.Dispose());
    }
}
