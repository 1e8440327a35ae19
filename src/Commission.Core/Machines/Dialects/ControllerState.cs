namespace Commission.Core.Machines.Dialects;

/// <summary>What a controller says it is doing, in our words.</summary>
public enum ControllerState
{
    /// <summary>Nothing that this program can name.</summary>
    Unknown,

    /// <summary>At rest and ready.</summary>
    Resting,

    /// <summary>Carrying out motion.</summary>
    Moving,

    /// <summary>Paused, with motion still to come.</summary>
    Held,

    /// <summary>Refuses motion until it is homed or unlocked.</summary>
    Locked,
}
