using System.Globalization;
using Commission.Core.Instruments;
using Commission.Core.Readings;

namespace Commission.Core.Tests.Characteristics;

/// <summary>Fits readings given as text, as the command line does.</summary>
internal static class Fit
{
    public static readonly Instrument Caliper = new("caliper", InstrumentKind.Other, 0.03, 0.01, 150, "invented");

    public static FitOptions With(double limitMm = 1e-9, string? tolerance = null, params (string Name, double Value)[] numbers) => new()
    {
        Instrument = Caliper with { LimitMm = limitMm, ResolutionMm = null },
        Tolerance = tolerance is null ? null : ToleranceText.Parse(tolerance).Require(),
        Numbers = numbers.ToDictionary(n => n.Name, n => n.Value).ToImmutableDictionaryOf(),
    };

    public static Finding Of(string kind, string csv, FitOptions? options = null) => Try(kind, csv, options).Require();

    public static Outcome<Finding> Try(string kind, string csv, FitOptions? options = null)
    {
        var declared = CharacteristicKinds.Find(kind) ?? throw new InvalidOperationException(kind);
        return CsvReadings.Read("t.csv", csv, declared.Columns).Then(table => declared.Evaluate(table, options ?? With()));
    }

    public static double Value(this Finding finding, string name) =>
        finding.Parameter(name)?.Value ?? throw new InvalidOperationException($"{name} has no value");

    public static double U(this Finding finding, string name) =>
        finding.Parameter(name)?.StandardUncertainty ?? throw new InvalidOperationException($"{name}: {finding.Parameter(name)?.WhyNoUncertainty}");

    public static string Rows(string header, IEnumerable<IEnumerable<object>> rows) =>
        header + "\n" + string.Join("\n", rows.Select(row => string.Join(",", row.Select(cell => Convert.ToString(cell, CultureInfo.InvariantCulture)))));

    private static System.Collections.Immutable.ImmutableDictionary<string, double> ToImmutableDictionaryOf(this Dictionary<string, double> values) =>
        System.Collections.Immutable.ImmutableDictionary.CreateRange(values);
}
