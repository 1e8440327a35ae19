using System.Globalization;
using System.Text;

namespace Commission.Core.Machines;

/// <summary>Writes a machine's file so that reading it gives the same machine again.</summary>
public static class MachineWriter
{
    /// <summary>The text of the file; lines end with a line feed.</summary>
    public static string Write(Machine machine)
    {
        var text = new StringBuilder();
        void Line(string line) => text.Append(line).Append('\n');
        Line($"format: {MachineReader.Format}");
        Line($"name: {Quoted(machine.Name)}");
        Line($"travelMm: [{string.Join(", ", machine.TravelMm.Select(mm => Number(mm)))}]");
        Line($"units: {MachineWords.Of(MachineWords.Units, machine.Units)}");
        Line($"gantryAxis: {(machine.GantryAxis is { } gantry ? MachineWords.Of(MachineWords.Axes, gantry) : "unknown")}");
        Line($"driveWidthMm: {Number(machine.DriveWidthMm)}");
        Line($"class: {MachineWords.Of(MachineWords.Classes, machine.Class)}");
        Line($"spindle: {MachineWords.Of(MachineWords.Spindles, machine.Spindle)}");
        Line("axes:");
        foreach (var name in Enum.GetValues<AxisName>())
        {
            Line($"  {MachineWords.Of(MachineWords.Axes, name)}:");
            foreach (var (key, value) in Axis(machine[name])) Line($"    {key}: {value}");
        }

        return text.ToString();
    }

    private static IEnumerable<(string Key, string Value)> Axis(AxisDescription axis) =>
    [
        ("drive", MachineWords.Of(MachineWords.Drives, axis.Drive)),
        ("travelPerTurnMm", Number(axis.TravelPerTurnMm)),
        ("grade", Number(axis.Grade)),
        ("gearing", Number(axis.Gearing)),
        ("stepAngleDeg", Number(axis.StepAngleDeg)),
        ("microsteps", Number(axis.Microsteps)),
        ("stepsPerMm", Number(axis.StepsPerMm)),
        ("motors", Number(axis.Motors)),
        ("pairSetting", MachineWords.Of(MachineWords.PairSettings, axis.PairSetting)),
        ("switches", MachineWords.Of(MachineWords.SwitchSets, axis.Switches)),
        ("homeAt", MachineWords.Of(MachineWords.Ends, axis.HomeAt)),
        ("holdsUnpowered", MachineWords.Of(MachineWords.Answers, axis.HoldsUnpowered)),
        ("compensation", MachineWords.Of(MachineWords.Compensations, axis.Compensation)),
        ("setting", MachineWords.Of(MachineWords.RatioSettings, axis.Setting)),
        ("settingDecimals", Number(axis.SettingDecimals)),
    ];

    private static string Number(double? value) => value is { } number ? number.ToString("R", CultureInfo.InvariantCulture) : "unknown";

    private static string Quoted(string text) => "'" + text.Replace("'", "''", StringComparison.Ordinal) + "'";
}
