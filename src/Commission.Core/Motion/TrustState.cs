namespace Commission.Core.Motion;

/// <summary>How far the position can be trusted, and so what may be sent.</summary>
public enum TrustState
{
    /// <summary>No link, not in step, identity or readiness open, or a job that is not ours.</summary>
    Shut,

    /// <summary>The controller reports a lock or alarm.</summary>
    Locked,

    /// <summary>At rest, no alarm, position not trusted.</summary>
    Unreferenced,

    /// <summary>Every axis was put on its marked reference place by hand.</summary>
    Placed,

    /// <summary>Homing ended well.</summary>
    Homed,

    /// <summary>A confirmed list is under way.</summary>
    Moving,

    /// <summary>Something stopped it; waits for the operator.</summary>
    Stopped,
}

/// <summary>What a row of the motion table permits.</summary>
public enum Permit
{
    /// <summary>Reads of state and settings.</summary>
    Read,

    /// <summary>STOP.</summary>
    Stop,

    /// <summary>Unlock, after its own confirmation.</summary>
    Unlock,

    /// <summary>Homing, after its own confirmation.</summary>
    Home,

    /// <summary>Moves, after their own confirmation.</summary>
    Move,

    /// <summary>Setting an axis to its reference place, after its own confirmation.</summary>
    SetReference,

    /// <summary>The next move of the list under way.</summary>
    NextMove,
}
