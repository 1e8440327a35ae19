using Commission.Tests;
using CsCheck;

namespace Commission.Core.Tests.Machines;

public sealed class MachineReaderTests
{
    [Fact]
    public void Name_and_travel_are_enough_and_the_rest_is_unknown()
    {
        var machine = MachineReader.Read("m.yaml", "format: commission.machine/1\nname: Heron\ntravelMm: [420, 580, 90]\n").Require();
        Assert.Equal("Heron", machine.Name);
        Assert.Equal([420.0, 580.0, 90.0], machine.TravelMm);
        Assert.Equal(DriveKind.Unknown, machine.X.Drive);
        Assert.Null(machine.Y.StepsPerMm);
    }

    [Fact]
    public void Every_value_of_the_contract_is_read()
    {
        var machine = MachineReader.Read("m.yaml", """
            format: commission.machine/1
            name: Heron
            travelMm: [420, 580, 90]
            units: in
            gantryAxis: Y
            driveWidthMm: 520
            class: plastics
            spindle: router-with-dial
            axes:
              X: {drive: screw, travelPerTurnMm: {pitchMm: 2.5, starts: 2}, grade: 7, gearing: 1, stepAngleDeg: 1.8, microsteps: 8, stepsPerMm: 320,
                  motors: 1, switches: both-ends, homeAt: low, holdsUnpowered: yes, compensation: mm, setting: steps-per-mm, settingDecimals: 3}
              Y: {drive: belt, travelPerTurnMm: {pitchMm: 2, teeth: 20}, motors: 2, pairSetting: two, grade: unknown}
              Z: {drive: rack, travelPerTurnMm: {module: 1, teeth: 20}, holdsUnpowered: no}
            """).Require();
        Assert.Equal(LengthUnit.Inch, machine.Units);
        Assert.Equal(AxisName.Y, machine.GantryAxis);
        Assert.Equal(5, machine.X.TravelPerTurnMm);
        Assert.Equal(40, machine.Y.TravelPerTurnMm);
        Assert.Equal(Math.PI * 20, machine.Z.TravelPerTurnMm!.Value, 1e-9);
        Assert.Equal(PairSetting.Two, machine.Y.PairSetting);
        Assert.Equal(Known.No, machine.Z.HoldsUnpowered);
        Assert.Equal(Switches.BothEnds, machine.X.Switches);
    }

    [Fact]
    public void All_problems_come_at_once_with_line_and_column()
    {
        var bad = Assert.IsType<Outcome<Machine>.Bad>(MachineReader.Read("m.yaml", """
            format: commission.machine/1
            name: Heron
            travelMm: [420, 580]
            axes:
              X: {drive: scew, grade: 4, travl: 3}
            """));
        Assert.Equal(4, bad.Problems.Length);
        Assert.Equal("m.yaml:3:11: 'travelMm' needs three numbers. Write the travel of X, Y and Z, such as [420, 580, 90].", bad.Problems[0].ToString());
        Assert.Contains("did you mean 'screw'?", bad.Problems[1].Remedy, StringComparison.Ordinal);
        Assert.Equal((5, 14), (bad.Problems[1].Line, bad.Problems[1].Column));
    }

    [Fact]
    public void Written_and_read_again_it_is_the_same_machine() =>
        Gen.Select(Gen.Enum<DriveKind>(), Gen.Enum<Switches>(), Gen.Enum<RatioSetting>(), Gen.Double[0.01, 5000], Gen.Enum<Compensation>(), Gen.Enum<LengthUnit>(), Gen.Int[1, 128])
            .SampleFixed((drive, switches, setting, steps, compensation, units, microsteps) =>
            {
                var axis = new AxisDescription
                {
                    Drive = drive, Switches = switches, Setting = setting, StepsPerMm = steps, Compensation = compensation, Microsteps = microsteps, Grade = 7,
                };
                var machine = new Machine { Name = "it's: #1", TravelMm = [420.5, 580, 90], Units = units, X = axis, Z = axis with { Motors = 2 } };
                var again = MachineReader.Read("m.yaml", MachineWriter.Write(machine)).Require();
                return again with { TravelMm = machine.TravelMm } == machine && again.TravelMm.SequenceEqual(machine.TravelMm);
            });
}
