using System.Collections.Immutable;
using Commission.Core.Machines;

namespace Commission.Core.Procedures.Aids;

/// <summary>Data for the machine or the bench: lines of ISO 6983, or a table. The owner runs or prints it in their own way; this program sends none of it.</summary>
/// <param name="Name">Name of a file for it, with its ending.</param>
/// <param name="About">What it is and where its zero lies, in a sentence or two.</param>
/// <param name="Lines">The lines.</param>
public sealed record WorkData(string Name, string About, ImmutableArray<string> Lines);

/// <summary>What data are made from.</summary>
/// <param name="Procedure">The procedure whose step asks.</param>
/// <param name="Machine">The machine as it is known now.</param>
/// <param name="Setting">Instrument and the rest.</param>
/// <param name="Number">The number of a parameter; null where the step gives none and none was found.</param>
/// <param name="Text">The text of a parameter; null likewise.</param>
public sealed record DataRequest(Procedure Procedure, Machine Machine, RunSetting Setting, Func<string, double?> Number, Func<string, string?> Text)
{
    /// <summary>The axis that the step speaks of; null where it speaks of none.</summary>
    public AxisName? Axis { get; init; }

    /// <summary>A number that must be there and lie in a range.</summary>
    public Outcome<double> Needed(string name, double least, double most) => Number(name) switch
    {
        null => new Problem($"the lines need '{name}', which is not known yet", "Answer the step that asks for it first"),
        { } value when !(value >= least && value <= most) => new Problem(
            string.Create(System.Globalization.CultureInfo.InvariantCulture, $"'{name}' is {value}, outside {least} to {most}"), "Correct the answer it comes from"),
        { } value => value,
    };
}

/// <summary>A parameter of a kind of data.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Meaning">What it is, with its unit.</param>
public sealed record DataParameter(string Name, string Meaning);

/// <summary>A kind of data that a step may ask for.</summary>
/// <param name="Id">Its name in files.</param>
/// <param name="Parameters">Its parameters.</param>
/// <param name="Make">Makes it.</param>
public sealed record DataKind(string Id, ImmutableArray<DataParameter> Parameters, Func<DataRequest, Outcome<ImmutableArray<WorkData>>> Make);

/// <summary>The kinds of data. What is not here cannot be asked for: a procedure has no formulas.</summary>
public static class DataKinds
{
    /// <summary>All kinds.</summary>
    public static ImmutableArray<DataKind> All { get; } =
    [
        new("drill-plate", [new("depth-mm", "depth of the holes, mm"), new("feed-mm-min", "speed of the plunge, mm/min")], PlateHoles.Make),
        new("mark-places", [], MarkPlaces.Make),
        new("cut-coupon", [new("cutter-mm", "diameter of the cutter, mm"), new("feed-mm-min", "speed of the cut, mm/min")], CouponCuts.Make),
        new("surface-board", [new("cutter-mm", "diameter of the surfacing cutter, mm"), new("depth-mm", "depth to take off in all, mm"), new("feed-mm-min", "speed of the cut, mm/min")], BoardSurfacing.Make),
        new("insert-grid", [new("pitch-mm", "distance between neighbours, mm"), new("cutter-mm", "diameter of the largest cutter, mm"), new("insert-mm", "diameter of the hole, mm"), new("keep-out", "places without holes, as X from, Y from, X to, Y to; several parted by semicolons"), new("feed-mm-min", "speed of the plunge, mm/min")], InsertHoles.Make),
        new("drive-numbers", DriveNumbers.Parameters, DriveNumbers.Make),
        new("gantry-shift", GantryShift.Parameters, GantryShift.Make),
    ];

    /// <summary>The kind of a name; null where there is none.</summary>
    public static DataKind? Find(string id) => All.FirstOrDefault(kind => kind.Id == id);
}
