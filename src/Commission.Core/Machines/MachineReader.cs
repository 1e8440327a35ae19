using System.Collections.Immutable;

namespace Commission.Core.Machines;

/// <summary>Reads a machine's file: name and travel are required, everything else may be missing or <c>unknown</c>.</summary>
public static class MachineReader
{
    /// <summary>First line of a machine's file.</summary>
    public const string Format = "commission.machine/1";

    private const double LongestTravelMm = 20_000;

    /// <summary>Reads a file's text.</summary>
    /// <param name="file">Name of the file, for the problems.</param>
    /// <param name="text">What it holds.</param>
    /// <returns>The machine, or every problem found.</returns>
    public static Outcome<Machine> Read(string file, string text) => YamlFields.Read(file, text, Machine);

    private static Machine Machine(YamlFields fields)
    {
        fields.RequireFormat(Format);
        var machine = new Machine
        {
            Name = Name(fields),
            TravelMm = Travel(fields),
            Units = fields.Word("units", MachineWords.Units, LengthUnit.Millimetre),
            GantryAxis = GantryAxis(fields),
            DriveWidthMm = fields.Number("driveWidthMm", 10, LongestTravelMm, unknownAllowed: true),
            Class = fields.Word("class", MachineWords.Classes, WorkClass.Unknown),
            Spindle = fields.Word("spindle", MachineWords.Spindles, SpindleKind.Unknown),
        };
        if (fields.Fields("axes", "'axes'") is { } axes)
        {
            machine = machine with { X = Axis(axes, "X"), Y = Axis(axes, "Y"), Z = Axis(axes, "Z") };
            axes.Done();
        }

        fields.Done();
        return machine;
    }

    private static string Name(YamlFields fields)
    {
        var name = fields.Text("name") ?? "";
        if (name.Length > 60 || name.Any(char.IsControl))
            fields.Report(fields.Optional("name")!, "'name' is longer than 60 characters or has characters that cannot be shown", "Choose a shorter name");
        return PlainText.Of(name, 60);
    }

    private static ImmutableArray<double> Travel(YamlFields fields)
    {
        var travel = fields.Numbers("travelMm", 1, LongestTravelMm, required: true);
        if (travel.Length == 3) return travel;
        if (fields.Optional("travelMm") is YamlNode.Sequence { Items.Length: not (0 or 3) } list)
            fields.Report(list, "'travelMm' needs three numbers", "Write the travel of X, Y and Z, such as [420, 580, 90]");
        return [1, 1, 1];
    }

    private static AxisName? GantryAxis(YamlFields fields) =>
        fields.Word("gantryAxis", new Dictionary<string, AxisName?> { ["X"] = AxisName.X, ["Y"] = AxisName.Y, ["unknown"] = null }, null);

    private static AxisDescription Axis(YamlFields axes, string name)
    {
        if (axes.Fields(name, "axis " + name) is not { } fields) return new AxisDescription();
        var axis = new AxisDescription
        {
            Drive = fields.Word("drive", MachineWords.Drives, DriveKind.Unknown),
            TravelPerTurnMm = TravelPerTurn(fields),
            Grade = Grade(fields),
            Gearing = fields.Number("gearing", 0.001, 1000, unknownAllowed: true),
            StepAngleDeg = fields.Number("stepAngleDeg", 0.01, 90, unknownAllowed: true),
            Microsteps = fields.Whole("microsteps", 1, 1024, unknownAllowed: true),
            StepsPerMm = fields.Number("stepsPerMm", 0.001, 1e6, unknownAllowed: true),
            Motors = fields.Whole("motors", 1, 2, unknownAllowed: true),
            PairSetting = fields.Word("pairSetting", MachineWords.PairSettings, PairSetting.Unknown),
            Switches = fields.Word("switches", MachineWords.SwitchSets, Switches.Unknown),
            HomeAt = fields.Word("homeAt", MachineWords.Ends, HomeEnd.Unknown),
            HoldsUnpowered = fields.Word("holdsUnpowered", MachineWords.Answers, Known.Unknown),
            Compensation = fields.Word("compensation", MachineWords.Compensations, Compensation.Unknown),
            Setting = fields.Word("setting", MachineWords.RatioSettings, RatioSetting.Unknown),
            SettingDecimals = fields.Whole("settingDecimals", 0, 9, unknownAllowed: true),
        };
        fields.Done();
        return axis;
    }

    // A screw may be told by pitch and starts, a belt by pitch and teeth, a rack by module and teeth.
    private static double? TravelPerTurn(YamlFields fields)
    {
        const string key = "travelPerTurnMm";
        if (fields.Optional(key) is not YamlNode.Mapping node) return fields.Number(key, 0.05, 2000, unknownAllowed: true);
        var parts = fields.Fields(node, $"'{key}'")!;
        var pitch = parts.Number("pitchMm", 0.05, 200);
        var starts = parts.Whole("starts", 1, 50);
        var module = parts.Number("module", 0.1, 20);
        var teeth = parts.Whole("teeth", 5, 500);
        parts.Done();
        if (pitch is { } p && module is null && (starts ?? teeth) is { } times && (starts is null || teeth is null)) return starts is null ? DriveArithmetic.BeltTravel(p, times) : DriveArithmetic.ScrewTravel(p, times);
        if (module is { } m && pitch is null && starts is null && teeth is { } count) return DriveArithmetic.RackTravel(m, count);
        fields.Report(node, $"'{key}' does not tell one travel", "Write a number of mm, or pitchMm with starts (screw), pitchMm with teeth (belt), module with teeth (rack)");
        return null;
    }

    private static int? Grade(YamlFields fields)
    {
        if (fields.Whole("grade", 0, 10, unknownAllowed: true) is not { } grade) return null;
        if (ScrewGrades.All.Contains(grade)) return grade;
        fields.Report(fields.Optional("grade")!, $"'grade' is {PlainText.Of(((YamlNode.Leaf)fields.Optional("grade")!).Value)}", "Use one of: " + string.Join(", ", ScrewGrades.All) + ", unknown");
        return null;
    }
}
