using System.Diagnostics;
using Commission.Adapters.Serial;

namespace Commission.App.Screens;

/// <summary>Looks at the keys that a blocked screen has not taken: STOP must not wait for it. Also sees the terminal go.</summary>
/// <param name="waiting">The characters that wait for the screen.</param>
/// <param name="turns">Turns of the screen so far.</param>
/// <param name="stop">How the motion is stopped.</param>
/// <param name="hungUp">Called once when the terminal is gone.</param>
internal sealed class BlockedScreen(Func<char[]> waiting, Func<long> turns, StopWay stop, Action hungUp) : IDisposable
{
    /// <summary>A screen that has not taken a key for so long is blocked.</summary>
    public static readonly TimeSpan Patience = TimeSpan.FromMilliseconds(100);

    private static readonly TimeSpan Look = TimeSpan.FromMilliseconds(25);

    private readonly ManualResetEventSlim _ended = new();
    private (long Turn, int Seen, long At)? _untaken;

    /// <summary>Begins to look.</summary>
    public void Start() => new Thread(() =>
    {
        UrgentThread.Ask();
        for (var told = false; !_ended.Wait(Look);)
        {
            At(Stopwatch.GetTimestamp());
            if (told || OperatingSystem.IsWindows() || !TerminalModes.IsHungUp())
                continue;
            told = true;
            hungUp();
        }
    })
    { IsBackground = true, Name = "blocked screen" }.Start();

    /// <summary>One look.</summary>
    /// <param name="now">Monotonic time.</param>
    public void At(long now)
    {
        var input = waiting();
        if (input.Length == 0)
        {
            _untaken = null;
            return;
        }

        // The screen takes all that waits in each of its turns: while it turns nothing stays.
        if (_untaken is not { } untaken || untaken.Turn != turns())
            _untaken = (turns(), 0, now);
        else if (input.Length > untaken.Seen && Stopwatch.GetElapsedTime(untaken.At, now) >= Patience)
        {
            Judge(TypedBytes.Of(input.AsSpan(untaken.Seen)));
            _untaken = untaken with { Seen = input.Length };
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _ended.Set();

    // While something moves every key is STOP. The letter that confirmed the move may still be held down: what it means only the screen can tell.
    private void Judge(TypedBytes typed)
    {
        if (typed.Stop)
            stop.Now("STOP was pressed while the screen did not answer");
        else if (typed.Keys > 0 && stop.Moving() is { } move && typed.Letter != char.ToUpperInvariant(move.Letter))
            stop.Now("a key was pressed while the screen did not answer");
    }
}
