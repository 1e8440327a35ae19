using System.Collections.Immutable;
using Commission.Core.Procedures;
using Commission.Tests;

namespace Commission.Core.Tests.Procedures;

/// <summary>The shipped procedures, read once.</summary>
internal static class Shipped
{
    public static ImmutableArray<Procedure> Procedures { get; } = [.. ShippedProcedures.Ids.Select(ShippedProcedures.Read)];

    public static Procedure Procedure(string id) => Procedures.Single(procedure => procedure.Id == id);

    public static ProcedureSurroundings Surroundings => new([.. ShippedProcedures.Ids, .. ContractIds], CharacteristicKinds.All, [.. Core.History.ChangeWord.All.Select(change => change.Word)]);

    /// <summary>The ids of the contract: a need may name one whose file is still to come.</summary>
    public static ImmutableArray<string> ContractIds { get; } =
    [
        "nominal-steps", "ratio-check", "gauge-study", "switch-logic", "homing", "noise", "speed-ladder", "frame-twist", "rails", "backlash", "stiffness",
        "axis-scale", "periodic-error", "diagonals", "distance-network", "square-reversal", "tram", "bed-map", "z-square", "runout", "test-cut", "recheck",
        "first-power-up", "readiness", "plate", "z-axis", "home-offset", "reference-corner", "speed-under-load", "surfacing", "insert-grid", "yearly-check",
    ];

    /// <summary>Ids that ship besides: checks of the power-up list that a machine which already runs needs by themselves.</summary>
    public static ImmutableArray<string> OtherIds { get; } = ["first-moves"];

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
}
