using System.Globalization;
using Commission.Core.History;
using Commission.Core.Motion;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Controllers;

/// <summary>A move that was confirmed stands in the journal before anything of it is sent: what a sudden end leaves under way must be known afterwards.</summary>
/// <param name="Words">The move in words.</param>
/// <param name="At">When it was confirmed.</param>
/// <param name="Run">The run it belongs to; null outside runs.</param>
public sealed record BegunMove(string Words, DateTimeOffset At, long? Run)
{
    /// <summary>A move is not sent that long after it was confirmed: the second in which its first byte must leave is not the store's.</summary>
    public static readonly TimeSpan LongestEntry = TimeSpan.FromMilliseconds(500);

    // After a sudden end little is entered before the next start tells of it.
    private const long LookedAt = 64;

    /// <summary>What is told of it: when, what, and that where it ended is not known.</summary>
    public string Told => string.Create(CultureInfo.InvariantCulture, $"A move was begun at {At:d MMM HH:mm}: {Words}. Its end is not in the log: where it stands is not known. Look at the machine first");

    /// <summary>An act in the words of its entry; null where nothing moves by it.</summary>
    public static string? InWords(MotionAct act) => act switch
    {
        MotionAct.Home => "homing",
        MotionAct.Go go => string.Join("; ", go.Moves.Select(move => string.Create(CultureInfo.InvariantCulture, $"{move.Axis} {move.Direction}, {Math.Abs(move.DistanceMm):0.0##} mm"))),
        _ => null,
    };

    /// <summary>The entry, of a run or of the machine alone: what a person types as a note looks like neither.</summary>
    public static EntryBody Entry(string words, string? machine, long? run) => run is null
        ? new EntryBody.Confirmed(EntryBody.Confirmed.OfMotion, EntryBody.Noted.MoveBegun + words) { Machine = machine }
        : new EntryBody.Noted(null, EntryBody.Noted.MoveBegun + words) { Machine = machine, Run = run };

    /// <summary>The last move of a machine whose end is not in the journal; null where it is, or where something was done or answered since.</summary>
    public static BegunMove? LeftOpen(IJournal journal, string? machine)
    {
        var last = journal.LastEntry?.Sequence ?? 0;
        var newest = journal.Entries(Math.Max(1, last - LookedAt)).LastOrDefault(entry => entry.Body.Machine == machine && Tells(entry.Body));
        return newest?.Body.Begun() is { } words ? new BegunMove(words, newest.At, newest.Body.Run) : null;
    }

    private static bool Tells(EntryBody body) => body.Begun() is not null
        || body is EntryBody.Moved or EntryBody.Stopped or EntryBody.RunStarted or EntryBody.RunEnded or EntryBody.ReadingTaken or EntryBody.Noted { Run: not null } or EntryBody.Noted { Text: EntryBody.Noted.NothingMoved };
}
