using System.Globalization;
using System.Text.Json;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Quantities;

namespace Commission.Core.Reports;

/// <summary>A machine in lines for people, and as JSON.</summary>
public static class MachineText
{
    /// <summary>Name, travel and whether it is in use.</summary>
    public static string Line(MachineRecord machine)
    {
        var described = machine.Description;
        var inch = described.Units == LengthUnit.Inch;
        var travel = string.Join(" x ", described.TravelMm.Select(t => inch ? FactUnits.Shown(t, described) : t.ToString("0.###", CultureInfo.InvariantCulture)));
        return Words.Clean($"{described.Name}: travel {travel} {FactUnits.Length(described).Symbol}{(machine.Retired ? ", out of use" : "")}");
    }

    /// <summary>The whole description, as its file has it.</summary>
    public static IEnumerable<string> Lines(Machine machine) => MachineWriter.Write(machine).Split('\n', StringSplitOptions.RemoveEmptyEntries);

    /// <summary>The whole description as one JSON object.</summary>
    public static void Json(Utf8JsonWriter writer, Machine machine)
    {
        writer.Document(MachineReader.Format, () => MachineJson.Write(writer, machine));
    }

    /// <summary>Machines of a store as a JSON list.</summary>
    public static void Json(Utf8JsonWriter writer, IEnumerable<MachineRecord> machines)
    {
        writer.Objects(machines, machine =>
        {
            writer.WriteString("name", machine.Description.Name);
            writer.WriteBoolean("retired", machine.Retired);
        });
    }
}
