using System.Collections.Immutable;

namespace Commission.Core.Characteristics;

/// <summary>The list of kinds, in the order of the contract.</summary>
public static class CharacteristicKinds
{
    /// <summary>All kinds.</summary>
    public static ImmutableArray<CharacteristicKind> All { get; } =
    [
        new ColumnsKind(),
        new AxisScaleKind(),
        new Backlash(),
        new Squareness(),
        new SquareReversal(),
        new Plate(),
        new Tram(),
        new Flatness(),
        new Runout(),
        new Repeatability(),
        new GaugeStudy(),
        new Periodic(),
        new Stiffness(),
        new SpeedLadder(),
        new TestCut(),
        new TestCircle(),
        new Drift(),
        new EventRate(),
    ];

    /// <summary>A kind by id; null where there is none.</summary>
    public static CharacteristicKind? Find(string id) => All.FirstOrDefault(kind => kind.Id == id);

    /// <summary>The title of a kind; where this version has none of that id, the id.</summary>
    public static string TitleOf(string id) => Find(id)?.Title ?? id;
}
