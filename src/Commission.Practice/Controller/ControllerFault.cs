namespace Commission.Practice.Controller;

/// <summary>What cable, board and people do to a dialogue.</summary>
public enum ControllerFault
{
    /// <summary>Nothing is said any more.</summary>
    Silence,

    /// <summary>The next line breaks off in its middle and has no end.</summary>
    HalfLine,

    /// <summary>Garbage on the line.</summary>
    Noise,

    /// <summary>The next acknowledgement comes twice.</summary>
    DoubledAcknowledgement,

    /// <summary>The next acknowledgement is lost.</summary>
    MissingAcknowledgement,

    /// <summary>The next answers come three seconds late.</summary>
    LateAnswers,

    /// <summary>The board restarts.</summary>
    Restart,

    /// <summary>The next line is refused.</summary>
    Refusal,

    /// <summary>A limit switch trips.</summary>
    Alarm,

    /// <summary>Hundreds of lines at once.</summary>
    Flood,

    /// <summary>The shown position jumps by 7 mm.</summary>
    PositionJump,

    /// <summary>Something moves that nobody asked for.</summary>
    StrangeMove,

    /// <summary>The speeds of both ends differ: nothing that is said can be read, on either side.</summary>
    WrongSpeed,

    /// <summary>The board restarts, the machine slips by 3 mm, and the board shows the position of before.</summary>
    LieAfterReset,

    /// <summary>The cable is pulled.</summary>
    Unplug,
}
