using Commission.Workshop.Screens.Keys;

namespace Commission.App.Screens;

/// <summary>How the motion is stopped past the screen: from any thread, whatever the screen does meanwhile.</summary>
/// <param name="Moving">The move under way; null at rest. Waits for nothing.</param>
/// <param name="Now">Sends STOP where a link is open; returns at once.</param>
/// <param name="BeforeEnd">Sends STOP where a move is under way, and waits until its bytes are out.</param>
public sealed record StopWay(Func<MoveUnderWay?> Moving, Action<string> Now, Action<string> BeforeEnd);
