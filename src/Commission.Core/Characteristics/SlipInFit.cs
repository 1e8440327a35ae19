using System.Collections.Immutable;
using Commission.Core.Quantities;
using Commission.Core.Readings;
using Commission.Core.Suspects;

namespace Commission.Core.Characteristics;

/// <summary>What a reading that a fit doubts may have been meant to be: the known slip with which it fits the others.</summary>
public static class SlipInFit
{
    // What the others scatter may be so much larger with a reading among them that was meant so.
    private const double Larger = 1.5;

    // Of one thing, whatever other things scatter: so near to its other readings must come what was meant (our choice).
    private const double NearMm = 0.25;

    /// <summary>The value that was probably meant, with the slip in words; null where no known slip makes it fit.</summary>
    /// <param name="kind">The kind that doubts it.</param>
    /// <param name="readings">The readings.</param>
    /// <param name="options">What the fit is told.</param>
    /// <param name="row">Number of the doubted row, from 1.</param>
    /// <param name="column">Column that the instrument was read for, mm.</param>
    /// <param name="units">Units it was typed in; millimetres where not told.</param>
    public static (double Meant, string Slip)? Of(CharacteristicKind kind, ReadingTable readings, FitOptions options, int row, string column, ShownUnits? units = null)
    {
        var at = readings.Rows.Select(one => one.Number).ToImmutableArray().IndexOf(row);
        if (at < 0 || readings.Rows[at].Maybe(column) is not { } value || Scatter(kind, With(readings, at, one => one with { Excluded = "doubted" }), options, row) is not { } without)
            return null;
        var most = Larger * Math.Max(without, options.Instrument?.ResolutionMm ?? 0);
        return TypingSlips.Meanings(value, units).Where(slip => IsNear(readings, at, column, slip.Meant) && Instruments.LastDigit.Shows(options.Instrument, slip.Meant))
            .Select(slip => (slip, Left: Scatter(kind, With(readings, at, one => one with { Numbers = one.Numbers.SetItem(column, slip.Meant) }), options, row)))
            .Where(tried => tried.Left <= most)
            .OrderBy(tried => tried.Left)
            .Select(tried => ((double, string)?)tried.slip)
            .FirstOrDefault();
    }

    private static bool IsNear(ReadingTable readings, int at, string column, double meant)
    {
        if (!readings.Rows[at].Words.TryGetValue("object", out var thing)) return true;
        double[] others = [.. readings.Rows.Where((row, i) => i != at && row.Excluded is null && row.Words.GetValueOrDefault("object") == thing).Select(row => row.Maybe(column)).OfType<double>()];
        return others.Length == 0 || Math.Abs(meant - Fits.SampleStatistics.MedianOf(others)) <= NearMm;
    }

    private static ReadingTable With(ReadingTable readings, int at, Func<ReadingRow, ReadingRow> change) =>
        readings with { Rows = readings.Rows.SetItem(at, change(readings.Rows[at])) };

    // Of a set that doubts the row still, nothing is said.
    private static double? Scatter(CharacteristicKind kind, ReadingTable readings, FitOptions options, int row) =>
        kind.Evaluate(readings, options) is Outcome<Finding>.Good { Value: var finding } && finding.Suspects.All(suspect => suspect.Row != row) ? finding.ResidualStandardDeviation : null;
}
