using System.Collections.Immutable;
using Commission.Core.Procedures;

namespace Commission.Core.Tests.Procedures;

/// <summary>The files of the repository, found from where the tests run.</summary>
internal static class Shipped
{
    public static string Root { get; } = FindRoot();

    public static ImmutableArray<string> Files { get; } = [.. Directory.GetFiles(Path.Combine(Root, "procedures"), "*.yaml").Order(StringComparer.Ordinal)];

    public static ImmutableArray<Procedure> Procedures { get; } = [.. Files.Select(file => ProcedureReader.Read(Path.GetFileName(file), File.ReadAllText(file)).Require())];

    public static Procedure Procedure(string id) => Procedures.Single(procedure => procedure.Id == id);

    public static ProcedureSurroundings Surroundings => new([.. Files.Select(file => Path.GetFileNameWithoutExtension(file)), .. ContractIds], CharacteristicKinds.All);

    /// <summary>The ids of the contract: a need may name one whose file is still to come.</summary>
    public static ImmutableArray<string> ContractIds { get; } =
    [
        "nominal-steps", "ratio-check", "gauge-study", "switch-logic", "homing", "noise", "speed-ladder", "frame-twist", "rails", "backlash", "stiffness",
        "axis-scale", "periodic-error", "diagonals", "distance-network", "square-reversal", "tram", "bed-map", "z-square", "runout", "test-cut", "recheck",
        "first-power-up", "readiness", "plate", "z-axis", "home-offset", "reference-corner", "speed-under-load", "surfacing", "insert-grid", "yearly-check",
    ];

    /// <summary>A machine with everything, and with the switches that the procedure is for.</summary>
    public static Machine MachineFor(Procedure procedure)
    {
        var switches = procedure.When.FirstOrDefault(condition => condition.Fact == "switches")?.Words.Contains("none") == true ? Switches.None : Switches.BothEnds;
        var axis = new AxisDescription
        {
            Drive = DriveKind.Screw, TravelPerTurnMm = 5, StepsPerMm = 320, Switches = switches, Motors = 2, Compensation = Compensation.Millimetres,
        };
        return new Machine { Name = "Heron", TravelMm = [420, 580, 90], GantryAxis = AxisName.Y, DriveWidthMm = 500, X = axis, Y = axis, Z = axis };
    }

    private static string FindRoot()
    {
        for (var folder = AppContext.BaseDirectory; folder is not null; folder = Path.GetDirectoryName(folder))
            if (File.Exists(Path.Combine(folder, "Commission.sln"))) return folder;
        throw new InvalidOperationException("The tests must run inside the repository.");
    }
}
