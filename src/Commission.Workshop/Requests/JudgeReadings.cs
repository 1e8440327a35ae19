using System.Collections.Immutable;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.Corrections;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Plans;
using Commission.Core.Readings;
using Commission.Core.Upkeep;

namespace Commission.Workshop.Requests;

/// <summary>
/// Evaluates readings with what the store knows besides: results of other instruments for the same quantity go in, and "undecided" leaves
/// with the cheapest next step. Command line and procedures come through here, so that both answer the same.
/// </summary>
/// <param name="ledger">What the store holds; empty without one.</param>
/// <param name="machine">The machine; null where none is known.</param>
public sealed class JudgeReadings(Ledger ledger, Machine? machine)
{
    /// <summary>Run whose readings these are: what it found before is no second result.</summary>
    public long? OfRun { get; init; }

    /// <summary>Sequence of the finding that is made anew; null where none is.</summary>
    public long? InsteadOf { get; init; }

    /// <summary>Evaluates.</summary>
    /// <returns>The finding and the options it was made with.</returns>
    public Outcome<(Finding Finding, FitOptions Options)> Run(CharacteristicKind kind, ReadingTable readings, FitOptions options)
    {
        var told = machine is null ? options : options with
        {
            Others = options.Others.IsEmpty ? ResultsInForce.Others(ledger, machine.Name, kind.Id, Axis(options), options.Instrument?.Name) : options.Others,
        };
        return kind.Evaluate(readings, told).Then<(Finding, FitOptions)>(finding =>
            (Beside(NextStep.Named(PlaneAdvice.Remarked(finding, machine), told, machine, Owned, Longest(readings)), told), told));
    }

    private Finding Beside(Finding finding, FitOptions options) => machine is null ? finding
        : Contradiction.Told(finding, options, ledger, machine.Name, made => made.Sequence == InsteadOf || (OfRun is { } run && made.Body.Run == run));

    private ImmutableArray<Core.Instruments.Instrument> Owned =>
        [.. ledger.Kit];

    private static string? Axis(FitOptions options) => options.Axis is { } axis ? MachineWords.Of(MachineWords.Axes, axis) : null;

    // What was commanded or measured at the longest: a stand-in for the travel where no machine is named.
    private static double Longest(ReadingTable readings) => readings.Used
        .SelectMany(row => row.Numbers.Where(cell => cell.Key.EndsWith("_mm", StringComparison.Ordinal)).Select(cell => Math.Abs(cell.Value))).DefaultIfEmpty(0).Max();
}
