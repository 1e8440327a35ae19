using System.Collections.Immutable;
using System.Globalization;

namespace Commission.Core.Procedures.Aids;

/// <summary>Where the marks go that a procedure measures between: the commanded place of each, as its finding will take it.</summary>
internal static class MarkPlaces
{
    public static Outcome<ImmutableArray<WorkData>> Make(DataRequest request)
    {
        if (request.Procedure.AllSteps.OfType<Step.Read>().Select(read => read.Grid).OfType<Grid.Distances>().FirstOrDefault() is not { } grid)
            return new Problem("the procedure reads no distances between marks", "Add a 'read' step with 'kind: pairs'");
        return ImmutableArray.Create(new WorkData(
            "mark-places.txt", "Where each mark goes, in the machine's own coordinates.",
            [.. MarkPlan.Marks(grid, request.Machine, GridPlan.RangeOf(request.Setting.Instrument)).Select(mark => string.Create(CultureInfo.InvariantCulture, $"{mark.Name}   X {mark.XMm:F3} mm   Y {mark.YMm:F3} mm"))]));
    }
}
