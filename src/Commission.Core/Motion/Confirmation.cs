using System.Collections.Immutable;

namespace Commission.Core.Motion;

/// <summary>The box that is open: one deliberate act confirms it, everything else does not.</summary>
/// <param name="Act">What is asked for.</param>
/// <param name="DrawnAt">When the box was drawn, on the monotonic clock.</param>
/// <param name="Lines">The whole move in words: axis, direction, distance, speed, seconds, where it ends in the travel.</param>
public sealed record Confirmation(MotionAct Act, TimeSpan DrawnAt, ImmutableArray<string> Lines)
{
    /// <summary>Text that confirms it in plain mode.</summary>
    public string Token => Act.Token;

    /// <summary>Key that confirms it on a screen.</summary>
    public char Letter => Act.Letter;
}
