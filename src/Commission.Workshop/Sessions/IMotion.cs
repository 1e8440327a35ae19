using System.Collections.Immutable;
using Commission.Core;
using Commission.Core.Procedures;

namespace Commission.Workshop.Sessions;

/// <summary>What carries out the moves of a session over the link. Whether a move may be sent at all is decided behind this port.</summary>
public interface IMotion : IPositionWatch
{
    /// <summary>Opens the box for the next act that leads to these moves; without moves for what leads out of a lock.</summary>
    /// <returns>The token that confirms it (<c>go X+25</c>, <c>go home</c>), or why it may not be made.</returns>
    Outcome<string> Propose(IReadOnlyList<Move> moves);

    /// <summary>Makes the proposed moves, confirmed by the typed token, and returns when the machine rests where they end.</summary>
    /// <param name="token">What was typed.</param>
    /// <param name="begun">Enters what is about to move, in words, before anything of it is sent: what cannot be kept is not sent.</param>
    /// <param name="cancellation">Ends it.</param>
    /// <returns>The moves in words as they were made, or what happened instead; then the position is not trusted.</returns>
    Task<Outcome<string>> CarryOutAsync(string token, Func<string, Outcome<ProcedureRun>> begun, CancellationToken cancellation);

    /// <summary>The act last proposed in words, a line each: axis, direction, distance, speed, seconds, where it ends in the travel.</summary>
    ImmutableArray<string> Box => [];

    /// <summary>Whether the act last carried out only led towards the moves (homing, a reference place), so that they are proposed again.</summary>
    bool MoreToCome => false;

    /// <summary>What happened and was not acknowledged yet; null where nothing waits. Nothing moves before.</summary>
    string? Trouble => null;

    /// <summary>Whether STOP is among what happened: then it is asked what was seen.</summary>
    bool StopPressed => false;

    /// <summary>How often trust has been lost up to now: read before <see cref="Trouble"/> it says what was shown.</summary>
    int Losses => 0;

    /// <summary>Puts the open box away: nothing moves.</summary>
    void Withdraw()
    {
    }

    /// <summary>The operator has read what happened. Waits until the controller has told its state since.</summary>
    /// <param name="losses"><see cref="Losses"/> when it was shown: what came after that still waits.</param>
    /// <param name="cancellation">Ends the wait.</param>
    /// <returns>Whether it was taken; where not, <see cref="Trouble"/> stands.</returns>
    Task<bool> AcknowledgeAsync(int losses, CancellationToken cancellation) => Task.FromResult(true);

    /// <summary>Whether the machine stands where the moves lead, with its position trusted: then nothing is to be confirmed.</summary>
    bool AlreadyThere(IReadOnlyList<Move> moves) => false;

    /// <summary>Whether the move that follows passes where this one ends, in the same sense: then this one is no move of its own.</summary>
    bool OnTheWay(Move move, Move? then) => false;
}

/// <summary>What a session must know of the machine over a link, whoever drives its moves.</summary>
public interface IPositionWatch
{
    /// <summary>Why no reading may be accepted now; null where one may.</summary>
    /// <param name="moved">Whether the reading's place was reached by moves over the link.</param>
    string? WhyNoReading(bool moved) => null;

    /// <summary>Where the controller says that the axis was commanded to, mm in the travel, where its display tells it apart from the plan; else null.</summary>
    double? CommandedInstead(Core.Machines.AxisName axis, double plannedMm) => null;

    /// <summary>The drives were switched off or on: the position is not trusted any more.</summary>
    void PowerChanged(bool drivesOn);
}
