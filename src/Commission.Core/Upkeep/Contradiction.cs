using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Quantities;

namespace Commission.Core.Upkeep;

/// <summary>What a new result of an axis scale says beside those that still stand for the axis with nothing changed between: no change stands on one that contradicts them alone.</summary>
public static class Contradiction
{
    private const string Kind = "axis-scale", Parameter = "scaleError", Why = "It contradicts a result that still stands";

    /// <summary>The finding, with each result it contradicts told beside it; a change becomes measuring again, unless a result of another instrument that stands agrees with it.</summary>
    /// <param name="finding">The new finding.</param>
    /// <param name="options">What its fit knew; axis and instrument are read from it.</param>
    /// <param name="ledger">What stands.</param>
    /// <param name="machine">The machine.</param>
    /// <param name="own">Whether a finding is an earlier one from the same readings, which the new one takes the place of.</param>
    public static Finding Told(Finding finding, FitOptions options, Ledger ledger, string machine, Func<Entered<EntryBody.FindingMade>, bool> own)
    {
        if (finding.Kind != Kind || options.Axis is not { } axis || finding.Parameter(Parameter) is not { Value: { } value, ExpandedUncertainty: { } u })
            return finding;
        var standing = Standing(ledger, machine, $"{axis}", own);
        bool Contradicts(ResultInForce one) => Math.Abs(one.Value - value) > Math.Sqrt((u * u) + Math.Pow(one.Parameter.ExpandedUncertainty!.Value, 2));
        ImmutableArray<ResultInForce> against = [.. standing.Where(Contradicts)];
        if (against.IsEmpty)
            return finding;
        var told = finding with { Remarks = [.. against.Select(one => Sentence(one, value, u)), .. finding.Remarks] };
        var confirmed = standing.Any(one => one.Instrument is { } name && name != options.Instrument?.Name && !Contradicts(one));
        return finding.Advice.Action != AdviceAction.Change || confirmed ? told : told with
        {
            Advice = finding.Advice with
            {
                Action = AdviceAction.MeasureMore,
                Setting = null,
                AsksForCheapest = false,
                Because = $"{Why}, {Shown(against[^1].Value, against[^1].Parameter.ExpandedUncertainty!.Value)} of {Day(against[^1])}, by more than both U together.",
                Next = "Measure it once more before anything is changed. What that agrees with counts; withdraw the other one with its reason.",
            },
        };
    }

    // What itself asks for a fault, or for a reading to be looked at, stands for nothing.
    private static ImmutableArray<ResultInForce> Standing(Ledger ledger, string machine, string axis, Func<Entered<EntryBody.FindingMade>, bool> own) =>
        ResultsInForce.Of(ledger, machine, new PlaneQuantity("scale", $"scale of {axis}", "1", Kind, axis, [new(Kind, axis, Parameter)]),
            made => !own(made) && made.Body.Finding.Advice.Action != AdviceAction.FindTheFault && made.Body.Finding.Suspects.All(suspect => suspect.Row == 0) && made.Body.Finding.Parameter(Parameter)?.ExpandedUncertainty is not null);

    private static string Sentence(ResultInForce one, double value, double u) => string.Create(CultureInfo.InvariantCulture,
        $"{Why}: {Shown(one.Value, one.Parameter.ExpandedUncertainty!.Value)} of {Day(one)}{(one.Instrument is { } name ? $" with {PlainText.Of(name)}" : "")}, here {Shown(value, u)}; nothing that was told changed between them.");

    private static string Shown(double value, double u)
    {
        var (shown, spread) = ValueFormat.Pair(value * 1e6, u * 1e6);
        return $"{shown} +/- {spread} ppm";
    }

    private static string Day(ResultInForce one) => one.Made.At.ToString("d MMM yyyy, HH:mm", CultureInfo.InvariantCulture);
}
