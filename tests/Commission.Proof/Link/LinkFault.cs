namespace Commission.Proof.Link;

/// <summary>Everything that a cable, a board and a person do to a link.</summary>
internal enum LinkFault
{
    Silence,
    HalfLine,
    Noise,
    DoubledAcknowledgement,
    MissingAcknowledgement,
    LateAnswers,
    GreetingInMidRun,
    RefusalOfAnyKind,
    AlarmInMidMove,
    WrongPortSpeed,
    Flood,
    UnpluggedAtACall,
    FullOutputBuffer,
    PositionJump,
    MovementNotOurs,
    LieAfterReset,
    Sleep,
}
