namespace Commission.Core.Characteristics;

/// <summary>The limits that a machine's class of work sets.</summary>
/// <param name="Classes">The table of classes.</param>
/// <param name="Work">The class of the machine as it is described now.</param>
public sealed record WorkLimits(AcceptanceClasses Classes, Machines.WorkClass Work)
{
    /// <summary>The limit that stands for a result; null where there is none. One that somebody gave stands; one of a class gives way to that of the class now.</summary>
    /// <param name="given">The limit it was made with; null for none.</param>
    /// <param name="kind">Id of the kind of finding.</param>
    /// <param name="place">Place of the result; null where there is only one.</param>
    public Tolerance? Standing(Tolerance? given, string kind, string? place) =>
        given is not null && !AcceptanceClasses.Gave(given) ? given : Classes.For(kind, Work, place) ?? given;
}
