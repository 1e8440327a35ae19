using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.History;

namespace Commission.Core.Upkeep;

/// <summary>A result for a quantity that nothing since has made stale.</summary>
/// <param name="Made">The finding.</param>
/// <param name="Parameter">The parameter.</param>
public sealed record ResultInForce(Entered<EntryBody.FindingMade> Made, FittedParameter Parameter)
{
    /// <summary>Name of the instrument; null where none was named.</summary>
    public string? Instrument => Made.Body.Instrument;

    /// <summary>Where it comes from, in words.</summary>
    public string Name => CharacteristicKinds.TitleOf(Made.Body.Characteristic) is var kind && Instrument is { } name ? $"{kind} with {name}" : kind;

    /// <summary>Its value.</summary>
    public double Value => Parameter.Value!.Value;

    /// <summary>Its combined standard uncertainty.</summary>
    public double Uncertainty => Parameter.StandardUncertainty!.Value;
}

/// <summary>Finds, in a ledger, the results that still hold.</summary>
public static class ResultsInForce
{
    /// <summary>Results for a quantity, the newest of each kind and instrument, in order.</summary>
    /// <param name="ledger">The ledger.</param>
    /// <param name="machine">The machine.</param>
    /// <param name="quantity">The quantity.</param>
    /// <param name="among">Which findings are looked at; all where not told.</param>
    public static ImmutableArray<ResultInForce> Of(Ledger ledger, string machine, PlaneQuantity quantity, Func<Entered<EntryBody.FindingMade>, bool>? among = null)
    {
        var since = LastChange(ledger, machine, quantity);
        var found =
            from finding in ledger.Findings.Values
            where finding.Counts && finding.Sequence > since && finding.Made.Body.Machine == machine && among?.Invoke(finding.Made) != false
            let made = finding.Made.Body
            where !SquarePlane.IsUpright(made.Place) // Z to the bed is no quantity of the X-Y plane
            from source in quantity.Sources
            where source.Kind == made.Characteristic && (source.Axis is null || source.Axis == made.Axis)
            let parameter = made.Finding.Parameter(source.Parameter)
            where parameter is { Value: not null, StandardUncertainty: > 0 }
            select new ResultInForce(finding.Made, parameter);
        return [.. found.GroupBy(result => (result.Made.Body.Characteristic, result.Instrument)).Select(group => group.Last()).OrderBy(result => result.Made.Sequence)];
    }

    /// <summary>What other instruments found for the headline of a kind on an axis, still holding.</summary>
    /// <param name="ledger">The ledger.</param>
    /// <param name="machine">The machine.</param>
    /// <param name="kind">Id of the kind that is being fitted.</param>
    /// <param name="axis">The axis.</param>
    /// <param name="instrument">The instrument at hand: its own results are not independent.</param>
    public static ImmutableArray<IndependentResult> Others(Ledger ledger, string machine, string kind, string? axis, string? instrument) =>
        PlaneQuantity.All.FirstOrDefault(quantity => quantity.Sources[0].Kind == kind && quantity.Axis == axis) is { } found
            ? [.. Of(ledger, machine, found).Where(result => result.Instrument is not null && result.Instrument != instrument)
                .Select(result => new IndependentResult(result.Value, result.Uncertainty, result.Instrument!))]
            : [];

    // Sequence of the last change or written setting that makes results for the quantity stale; 0 where there is none.
    private static long LastChange(Ledger ledger, string machine, PlaneQuantity quantity)
    {
        bool Touches(string? word, string? of, string? axis) => word is not null && (of is null || of == machine)
            && (axis is null || quantity.Axis is null || axis == quantity.Axis) && StaleTable.Find(word)?.Items.Contains(quantity.Item) == true;
        var told = ledger.Changes.Where(change => change.Counts && Touches(change.Told.Body.Change, change.Told.Body.Machine, change.Told.Body.Axis)).Select(change => change.Told.Sequence);
        var written = ledger.SettingsWritten.Where(write => Touches(StaleTable.ChangeOf(write.Body.Name), write.Body.Machine, write.Body.Axis)).Select(write => write.Sequence);
        return told.Concat(written).DefaultIfEmpty(0).Max();
    }
}
