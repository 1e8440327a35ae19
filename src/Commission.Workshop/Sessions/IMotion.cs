using Commission.Core;
using Commission.Core.Procedures;

namespace Commission.Workshop.Sessions;

/// <summary>What carries out the moves of a session over the link. Whether a move may be sent at all is decided behind this port.</summary>
public interface IMotion
{
    /// <summary>Opens the box for one move or a list that needs no hand inside.</summary>
    /// <returns>The token that confirms it (<c>go X+25</c>, <c>go home</c>), or why it may not be made.</returns>
    Outcome<string> Propose(IReadOnlyList<Move> moves);

    /// <summary>Makes the proposed moves, confirmed by the typed token, and returns when the machine rests where they end.</summary>
    /// <returns>The moves in words as they were made, or what happened instead; then the position is not trusted.</returns>
    Task<Outcome<string>> CarryOutAsync(string token, CancellationToken cancellation);

    /// <summary>The drives were switched off or on: the position is not trusted any more.</summary>
    void PowerChanged(bool drivesOn);
}
