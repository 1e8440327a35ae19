using System.Text.Json;
using Commission.Core.Instruments;
using Commission.Core.Machines;

namespace Commission.Core.History;

/// <summary>Machines, instruments and hand studies as they stand in the journal; keys as in a machine's own file.</summary>
internal static class MachineJson
{
    internal static void Write(Utf8JsonWriter json, Machine machine)
    {
        json.Put("name", machine.Name);
        json.PutEach("travelMm", machine.TravelMm, json.PutNumber);
        json.Put("units", JournalWords.Units[machine.Units]);
        json.Put("gantryAxis", machine.GantryAxis is { } axis ? JournalWords.Axis[axis] : null);
        json.Put("driveWidthMm", machine.DriveWidthMm);
        json.Put("class", JournalWords.Class[machine.Class]);
        json.Put("spindle", JournalWords.Spindle[machine.Spindle]);
        json.PutObject("axes", () =>
        {
            json.PutObject("X", () => Write(json, machine.X));
            json.PutObject("Y", () => Write(json, machine.Y));
            json.PutObject("Z", () => Write(json, machine.Z));
        });
    }

    internal static Machine Read(JsonFields fields)
    {
        var machine = new Machine
        {
            Name = fields.Text("name"),
            TravelMm = fields.Numbers("travelMm"),
            Units = fields.Word("units", JournalWords.Units),
            GantryAxis = fields.MaybeWord("gantryAxis", JournalWords.Axis),
            DriveWidthMm = fields.MaybeNumber("driveWidthMm"),
            Class = fields.Word("class", JournalWords.Class),
            Spindle = fields.Word("spindle", JournalWords.Spindle),
        };
        return fields.Object("axes", axes => machine with
        {
            X = axes.Object("X", ReadAxis),
            Y = axes.Object("Y", ReadAxis),
            Z = axes.Object("Z", ReadAxis),
        });
    }

    internal static void Write(Utf8JsonWriter json, Instrument instrument)
    {
        json.Put("name", instrument.Name);
        json.Put("kind", JournalWords.Instrument[instrument.Kind]);
        json.Put("limitMm", instrument.LimitMm);
        json.Put("resolutionMm", instrument.ResolutionMm);
        json.Put("rangeMm", instrument.RangeMm);
        json.Put("source", instrument.Source);
        if (instrument.TypesByCable)
            json.WriteBoolean("typesByCable", true);
    }

    internal static Instrument ReadInstrument(JsonFields fields) => new(
        fields.Text("name"),
        fields.Word("kind", JournalWords.Instrument),
        fields.MaybeNumber("limitMm"),
        fields.MaybeNumber("resolutionMm"),
        fields.MaybeNumber("rangeMm"),
        fields.Text("source"))
    { TypesByCable = fields.MaybeFlag("typesByCable") == true };

    internal static void Write(Utf8JsonWriter json, HandStudy study)
    {
        json.Put("operator", study.Operator);
        json.Put("instrument", study.Instrument);
        json.Put("standardDeviationMm", study.StandardDeviationMm);
        json.Put("degreesOfFreedom", study.DegreesOfFreedom);
    }

    internal static HandStudy ReadStudy(JsonFields fields) => new(
        fields.Text("operator"), fields.Text("instrument"), fields.Number("standardDeviationMm"), fields.Number("degreesOfFreedom"));

    private static void Write(Utf8JsonWriter json, AxisDescription axis)
    {
        json.Put("drive", JournalWords.Drive[axis.Drive]);
        json.Put("travelPerTurnMm", axis.TravelPerTurnMm);
        json.Put("grade", (long?)axis.Grade);
        json.Put("gearing", axis.Gearing);
        json.Put("stepAngleDeg", axis.StepAngleDeg);
        json.Put("microsteps", (long?)axis.Microsteps);
        json.Put("stepsPerMm", axis.StepsPerMm);
        json.Put("motors", (long?)axis.Motors);
        json.Put("pairSetting", JournalWords.Pair[axis.PairSetting]);
        json.Put("switches", JournalWords.Switches[axis.Switches]);
        json.Put("homeAt", JournalWords.Home[axis.HomeAt]);
        json.Put("holdsUnpowered", JournalWords.Known[axis.HoldsUnpowered]);
        json.Put("compensation", JournalWords.Compensation[axis.Compensation]);
        json.Put("setting", JournalWords.Ratio[axis.Setting]);
        json.Put("settingDecimals", (long?)axis.SettingDecimals);
    }

    private static AxisDescription ReadAxis(JsonFields fields) => new()
    {
        Drive = fields.Word("drive", JournalWords.Drive),
        TravelPerTurnMm = fields.MaybeNumber("travelPerTurnMm"),
        Grade = fields.MaybeInt("grade"),
        Gearing = fields.MaybeNumber("gearing"),
        StepAngleDeg = fields.MaybeNumber("stepAngleDeg"),
        Microsteps = fields.MaybeInt("microsteps"),
        StepsPerMm = fields.MaybeNumber("stepsPerMm"),
        Motors = fields.MaybeInt("motors"),
        PairSetting = fields.Word("pairSetting", JournalWords.Pair),
        Switches = fields.Word("switches", JournalWords.Switches),
        HomeAt = fields.Word("homeAt", JournalWords.Home),
        HoldsUnpowered = fields.Word("holdsUnpowered", JournalWords.Known),
        Compensation = fields.Word("compensation", JournalWords.Compensation),
        Setting = fields.Word("setting", JournalWords.Ratio),
        SettingDecimals = fields.MaybeInt("settingDecimals"),
    };
}
