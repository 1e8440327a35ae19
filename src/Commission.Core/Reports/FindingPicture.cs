using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Quantities;

namespace Commission.Core.Reports;

/// <summary>The picture of a finding, drawn again from the readings of its store: reports and screens show the same values.</summary>
public static class FindingPicture
{
    /// <summary>The picture of its kind, or the residuals where the kind has none; null where neither can be drawn.</summary>
    /// <param name="ledger">The store.</param>
    /// <param name="made">The finding.</param>
    /// <param name="units">Units to show.</param>
    public static Figure? Of(Ledger ledger, EntryBody.FindingMade made, ShownUnits units)
    {
        var kind = CharacteristicKinds.Find(made.Finding.Kind);
        var readings = ledger.ReadingsOf(made).ToList();
        var table = KeptReading.Table("store", kind, readings.Select(reading => reading.Kept));
        var own = kind is not null && readings.Count > 0 && kind.Columns.All(column => !column.Required || table.Has(column.Name)) ? kind.Picture(made.Finding, table) : null;
        return (own ?? ResidualPicture.Of(made.Finding, readings.FirstOrDefault()?.Taken.Body.Unit)) is { } figure ? FigureUnits.In(figure, units) : null;
    }

    /// <summary>The position error over the work area; null where it cannot be given.</summary>
    /// <param name="area">The work area.</param>
    /// <param name="units">Units to show.</param>
    public static Figure? Of(Upkeep.WorkArea area, ShownUnits units) => WorkAreaPicture.Of(area) is { } figure ? FigureUnits.In(figure, units) : null;
}
