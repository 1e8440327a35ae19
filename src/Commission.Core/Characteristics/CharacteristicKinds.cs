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
        new SquareReversal(),
        new Tram(),
        new Runout(),
        new Repeatability(),
        new GaugeStudy(),
        new Periodic(),
        new Stiffness(),
        new EventRate(),
    ];

    /// <summary>A kind by id; null where there is none.</summary>
    public static CharacteristicKind? Find(string id) => All.FirstOrDefault(kind => kind.Id == id);
}
