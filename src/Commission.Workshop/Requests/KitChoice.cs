using Commission.Core.Instruments;
using Commission.Core.Procedures;

namespace Commission.Workshop.Requests;

/// <summary>Which instrument of the kit a procedure is done with.</summary>
public static class KitChoice
{
    /// <summary>The one that was asked for, where the procedure can use it; else the best kind the procedure names first, and of one kind the one last described.</summary>
    public static Instrument? For(Procedure procedure, IReadOnlyList<Instrument> kit, string? preferred)
    {
        var kinds = procedure.Instruments.SelectMany(need => need.Kinds).ToList();
        return kit.FirstOrDefault(known => known.Name == preferred && kinds.Contains(known.Kind))
            ?? kinds.Select(kind => kit.LastOrDefault(known => known.Kind == kind)).FirstOrDefault(known => known is not null);
    }
}
