using Commission.Core.Characteristics;
using Commission.Core.Machines;

namespace Commission.Workshop.Sessions;

/// <summary>Limits for the headline of a finding by the class of work.</summary>
public static class ClassLimits
{
    /// <summary>The limit; null where the table has none for the kind.</summary>
    /// <param name="kind">Id of the kind of characteristic.</param>
    /// <param name="work">The class of work; an unknown one is treated as wood.</param>
    /// <param name="classes">The limits; null for those carried in the program.</param>
    /// <param name="place">Place of the result; null where there is only one.</param>
    public static Tolerance? For(string kind, WorkClass work, AcceptanceClasses? classes = null, string? place = null) => (classes ?? AcceptanceClasses.Shipped).For(kind, work, place);
}
