using System.Collections.Immutable;

namespace Commission.Core.Motion;

/// <summary>A row of the motion table.</summary>
/// <param name="State">The state.</param>
/// <param name="EnteredBy">What leads into it, in words.</param>
/// <param name="MayBeSent">What may be sent in it, in words.</param>
/// <param name="LeftBy">What leads out of it, in words.</param>
/// <param name="Permits">What may be sent, as the gate asks for it.</param>
public sealed record MotionTableRow(TrustState State, string EnteredBy, string MayBeSent, string LeftBy, ImmutableArray<Permit> Permits);

/// <summary>The one table of what may move the machine: the gate obeys it, the guide prints it, the test walks it.</summary>
public static class MotionTable
{
    /// <summary>Distance of a move where the position is not trusted, mm, at most.</summary>
    public const double UntrustedDistanceMm = 5;

    /// <summary>Moves in one confirmed list, at most.</summary>
    public const int LongestList = 20;

    /// <summary>Seconds of one confirmed list, at most.</summary>
    public const double LongestListS = 60;

    /// <summary>Time between a confirmation and its first byte, after which it is void.</summary>
    public static readonly TimeSpan ConfirmationLasts = TimeSpan.FromSeconds(1);

    /// <summary>Time a box must have stood before its letter counts.</summary>
    public static readonly TimeSpan BoxSettles = TimeSpan.FromSeconds(0.5);

    /// <summary>Age of the last answer while moving, at most.</summary>
    public static readonly TimeSpan AnswerLasts = TimeSpan.FromSeconds(1);

    /// <summary>A gap in time longer than this means that the program was suspended.</summary>
    public static readonly TimeSpan LongestGap = TimeSpan.FromSeconds(5);

    /// <summary>How long an unlocking may take to show, after which it is told as not done.</summary>
    public static readonly TimeSpan UnlockShows = TimeSpan.FromSeconds(3);

    /// <summary>How long a placed position lasts without a closure check.</summary>
    public static readonly TimeSpan PlacedLasts = TimeSpan.FromMinutes(30);

    /// <summary>The rows.</summary>
    public static ImmutableArray<MotionTableRow> Rows { get; } =
    [
        new(TrustState.Shut,
            "no link; link not in step; identity of the controller not confirmed; readiness list not met; a job that is not ours is running",
            "reads of state and settings, STOP",
            "all cleared: locked or unreferenced",
            [Permit.Read, Permit.Stop]),
        new(TrustState.Locked,
            "the controller reports a lock or alarm",
            "reads, STOP; after its own confirmation unlock, or homing where the dialect allows it in this lock",
            "unlock: unreferenced; homing ended well: homed, the watched test of homing: unreferenced",
            [Permit.Read, Permit.Stop, Permit.Unlock, Permit.Home]),
        new(TrustState.Unreferenced,
            "at rest, no alarm, position not trusted",
            "reads, STOP; each after its own confirmation: homing once switches, directions and the slow test have passed; one move of one axis,"
            + " at most 5 mm, at the first-motion speed, Z only up unless the step says down, away from a pressed switch; reference set",
            "homing: homed, the watched test of homing: unreferenced as before; reference set: placed",
            [Permit.Read, Permit.Stop, Permit.Home, Permit.Move, Permit.SetReference]),
        new(TrustState.Placed,
            "the operator has put every axis on its marked reference place and confirmed each",
            "as homed, margin doubled, speed at most half",
            "as homed; also 30 min without a closure check",
            [Permit.Read, Permit.Stop, Permit.Home, Permit.Move, Permit.SetReference]),
        new(TrustState.Homed,
            "homing other than the watched test ended well and the shown position is the home position",
            "reads, STOP; moves of the confirmed list inside travel less margin, at or below the step's speed; Z up first,"
            + " down only in steps that name surface and clearance; homing",
            "any loss of trust: stopped",
            [Permit.Read, Permit.Stop, Permit.Home, Permit.Move]),
        new(TrustState.Moving,
            "the first move of a confirmed list was sent",
            "reads, STOP; the next move of the same list, only after rest at the expected end within one step",
            "end of the list: where it came from, of the watched test of homing: unreferenced; anything unexpected: stopped",
            [Permit.Read, Permit.Stop, Permit.NextMove]),
        new(TrustState.Stopped,
            "STOP, fault, refused line, alarm, greeting, unexpected movement or position, answer older than 1 s while moving, the program was suspended,"
            + " a setting was written, drives were switched off, the operator reports a crash",
            "reads, STOP",
            "the operator reads what happened and acknowledges it with a key that confirms no move: locked or unreferenced, never homed or placed",
            [Permit.Read, Permit.Stop]),
    ];

    /// <summary>The table as the developers' guide prints it, a line a row.</summary>
    public static string Guide() => string.Join('\n',
    [
        "| state | entered by | may be sent | left by |",
        "|---|---|---|---|",
        .. Rows.Select(row => $"| {row.State.ToString().ToLowerInvariant()} | {row.EnteredBy} | {row.MayBeSent} | {row.LeftBy} |"),
    ]);

    /// <summary>Whether something may be sent in a state.</summary>
    public static bool Permits(TrustState state, Permit permit) => Rows[(int)state].Permits.Contains(permit);
}
