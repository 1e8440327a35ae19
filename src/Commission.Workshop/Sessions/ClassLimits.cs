using Commission.Core.Characteristics;
using Commission.Core.Machines;

namespace Commission.Workshop.Sessions;

/// <summary>Limits for the headline of a finding by the class of work (default table of acceptance classes; common practice, scale after ISO 2768-1 m and f over 400 mm).</summary>
public static class ClassLimits
{
    private static readonly Dictionary<string, (string Unit, double Wood, double Plastics, double Aluminium)> Table = new(StringComparer.Ordinal)
    {
        ["axis-scale"] = ("1", 1250e-6, 500e-6, 250e-6),
        ["backlash"] = ("mm", 0.15, 0.08, 0.03),
        ["squareness"] = ("rad", 1e-3, 0.5e-3, 0.2e-3),
        ["square-reversal"] = ("rad", 1e-3, 0.5e-3, 0.3e-3),
        ["plate"] = ("rad", 1e-3, 0.5e-3, 0.2e-3),
        ["tram"] = ("rad", 0.5e-3, 0.25e-3, 0.1e-3),
        ["flatness"] = ("mm", 0.3, 0.15, 0.05),
        ["runout"] = ("mm", 0.10, 0.05, 0.02),
        ["repeatability"] = ("mm", 0.05, 0.03, 0.01),
        ["event-rate"] = ("1/h", 1.0 / 8, 1.0 / 8, 1.0 / 40),
    };

    /// <summary>The limit; null where the table has none for the kind.</summary>
    /// <param name="kind">Id of the kind of characteristic.</param>
    /// <param name="work">The class of work; an unknown one is treated as wood.</param>
    public static Tolerance? For(string kind, WorkClass work)
    {
        if (!Table.TryGetValue(kind, out var row)) return null;
        var value = work switch
        {
            WorkClass.Plastics => row.Plastics,
            WorkClass.Aluminium => row.Aluminium,
            _ => row.Wood,
        };
        var name = work == WorkClass.Unknown ? "wood, because no class was chosen" : MachineWords.Of(MachineWords.Classes, work);
        return new Tolerance(value, row.Unit, "class of work: " + name);
    }
}
