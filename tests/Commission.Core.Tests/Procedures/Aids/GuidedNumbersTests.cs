using System.Collections.Immutable;
using Commission.Core.Procedures;
using Commission.Core.Procedures.Aids;

namespace Commission.Core.Tests.Procedures.Aids;

public sealed class GuidedNumbersTests
{
    private static readonly AxisDescription Screw = new()
    {
        Drive = DriveKind.Screw, TravelPerTurnMm = 5, StepAngleDeg = 1.8, Microsteps = 8, Gearing = 1, StepsPerMm = 320, SettingDecimals = 3,
    };

    private static string Numbers(AxisDescription axis, params (string Name, double Value)[] told)
    {
        var machine = new Machine { Name = "Heron", TravelMm = [420, 580, 90], X = axis };
        var values = told.ToDictionary(pair => pair.Name, pair => pair.Value);
        var request = new DataRequest(Shipped.Procedure("nominal-steps"), machine, new RunSetting { Machine = machine }, name => values.TryGetValue(name, out var value) ? value : null, _ => null)
        {
            Axis = AxisName.X,
        };
        return string.Join('\n', DataKinds.Find("drive-numbers")!.Make(request).Require()[0].Lines);
    }

    // Own arithmetic (sinusoidal drive with back voltage): 320 steps per mm; 1.1 ohm, 3.5 mH, 2.8 A, 1.9 N m at 36 V: 470 turns a minute, 2352 mm/min on 5 mm.
    [Fact]
    public void Plates_of_a_usual_screw_give_ratio_corner_speed_and_the_limit_by_pulses()
    {
        var text = Numbers(Screw, ("volts", 36), ("ohms", 1.1), ("millihenries", 3.5), ("driver-amps", 2.8), ("torque", 1.9), ("steps-per-second", 100_000));
        Assert.Contains("Steps per mm of X by arithmetic: 320, exact", text, StringComparison.Ordinal);
        Assert.Contains("470 turns a minute, 2352 mm/min on X (an estimate, to be expected within 30 percent)", text, StringComparison.Ordinal);
        Assert.Contains("up to 18750 mm/min, exact for the rate given", text, StringComparison.Ordinal);
        Assert.Contains("the same, within its decimals", text, StringComparison.Ordinal);
    }

    // Own arithmetic (Euler and Bernoulli's beam, steel of 206 GPa and 7850 kg/m^3): root 13 mm, 1000 mm between simple supports: 1569 turns a minute; four fifths of it on 5 mm: 6276 mm/min.
    [Fact]
    public void A_long_screw_is_told_where_it_whips()
    {
        var text = Numbers(Screw, ("root-mm", 13), ("screw-mm", 1000));
        Assert.Contains("1569 turns a minute", text, StringComparison.Ordinal);
        Assert.Matches("at most 627[0-9] mm/min", text);
    }

    [Fact]
    public void What_is_not_known_is_said_with_its_reason_and_never_made_up()
    {
        var text = Numbers(new AxisDescription());
        Assert.Contains("Steps per mm of X: not known, because step angle, microsteps or travel per turn is missing.", text, StringComparison.Ordinal);
        Assert.Contains("Corner speed, from which on the motor grows weak: not known", text, StringComparison.Ordinal);
        Assert.DoesNotContain("turns a minute", text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(40, 50, "at most nine tenths")]
    [InlineData(48, 50, "more than nine tenths")]
    public void A_supply_too_near_to_what_the_driver_stands_is_named(double volts, double most, string expected) =>
        Assert.Contains(expected, Numbers(Screw, ("volts", volts), ("driver-volts", most)), StringComparison.Ordinal);

    [Fact]
    public void A_controller_with_twice_the_steps_is_sent_to_the_microstep_switches() =>
        Assert.Contains("+100 percent away from the arithmetic", Numbers(Screw with { StepsPerMm = 640 }), StringComparison.Ordinal);

    // Own arithmetic, the same motor at three supplies: 303, 470, 638 turns a minute.
    [Theory]
    [InlineData(24, "303 turns a minute, 1514 mm/min")]
    [InlineData(36, "470 turns a minute, 2352 mm/min")]
    [InlineData(48, "638 turns a minute, 3188 mm/min")]
    public void The_corner_speed_rises_with_the_supply_as_the_quadratic_says(double volts, string expected) =>
        Assert.Contains(expected, Numbers(Screw, ("volts", volts), ("ohms", 1.1), ("millihenries", 3.5), ("driver-amps", 2.8), ("torque", 1.9)), StringComparison.Ordinal);

    // Elementary: screws, inch screws, belts and racks.
    [Theory]
    [InlineData(16, 10, "320,")]
    [InlineData(8, 5.08, "314.9606,")]
    [InlineData(16, 40, "80,")]
    [InlineData(8, 12.7, "125.9843,")]
    [InlineData(16, 62.832, "50.9295,")]
    public void Steps_for_a_millimetre_are_those_of_the_worked_drives(int microsteps, double travel, string expected) =>
        Assert.Contains("by arithmetic: " + expected, Numbers(Screw with { Microsteps = microsteps, TravelPerTurnMm = travel }), StringComparison.Ordinal);

    // Own arithmetic (torque as the sine of the lag): one microstep of 8 holds 19.5 % of the torque; a friction of one fifth lags 3.2 um each way on 5 mm, 26 um on 40 mm.
    [Theory]
    [InlineData(8, 5, "19.5 percent", "6.4 um")]
    [InlineData(16, 40, "9.8 percent", "51.3 um")]
    public void A_microstep_is_told_as_what_it_is_worth(int microsteps, double travel, string torque, string lag)
    {
        var text = Numbers(Screw with { Microsteps = microsteps, TravelPerTurnMm = travel });
        Assert.Contains(torque, text, StringComparison.Ordinal);
        Assert.Contains(lag, text, StringComparison.Ordinal);
    }

    // Peak against effective: 1.414 times 2.8 A is 3.96 A. Two thirds of both coils: 3.7 A. 32 times the root of 3.5 mH: 60 V (common practice, no source).
    [Theory]
    [InlineData(3.9, "within its rating if that is an effective value")]
    [InlineData(4.1, "it burns the motor")]
    public void A_driver_current_is_held_against_the_motors_rating(double peak, string expected)
    {
        var text = Numbers(Screw, ("motor-amps", 2.8), ("driver-amps", peak), ("volts", 36), ("millihenries", 3.5));
        Assert.Contains(expected, text, StringComparison.Ordinal);
        Assert.Contains("should give about 3.7 A", text, StringComparison.Ordinal);
        Assert.Contains("more than about 60 V only heats the motor", text, StringComparison.Ordinal);
    }
}
