using System.Collections.Immutable;
using Commission.Practice.Draws;
using Commission.Practice.Populations;

namespace Commission.Proof.Harm;

/// <summary>
/// Where the machines that the plate makes worse come from: the same population with one cause taken away at a time. Figures without goals.
/// </summary>
internal static class HarmCauses
{
    private static readonly (string Name, Func<Population, Population> Change)[] _causes =
    [
        ("as in the file", population => population),
        ("nobody slips or comes from the wrong side", population => population with { Hands = [.. population.Hands.Select(h => (h.Share, h.Hand with { SlipRate = 0 }))] }),
        ("slips of a tenth of a millimetre left out", population => population with
        {
            Slips = population.Slips with { Kinds = [.. population.Slips.Kinds.Where(kind => kind.Slip is not Practice.Operators.Slip.Miscount { Mm: 0.1 })] },
        }),
        ("every caliper within its limit", population => population with { CaliperErrorInLimits = new Law.Uniform(0, 1) }),
        ("drives as warm as the caliper", population => population with { DriveWarmerK = new Law.Uniform(0, 0) }),
        ("the window's scale is the axis'", population => population with
        {
            Drives = [.. population.Drives.Select(drive => drive with { WindowScatterPpm = new Law.Uniform(0, 0) })],
        }),
        ("no periodic error", population => population with { Drives = [.. population.Drives.Select(drive => drive with { PeriodicAmplitudeMm = new Law.Uniform(0, 0) })] }),
        ("all marks scatter by 0.012 mm", population => population with { MarkScatterMm = new Law.Uniform(0.012, 0.012) }),
    ];

    /// <summary>The table, each line as soon as it is known: a line takes minutes.</summary>
    public static IEnumerable<string> Lines(Population population, ulong seed, int machines)
    {
        var plate = Strategies.All.First(strategy => strategy.Kind == "plate");
        ImmutableArray<string> hands = [.. population.Hands.Select(hand => hand.Hand.Name)];
        var ungraded = population.Drives.Select((drive, i) => (drive, i)).First(pair => pair.drive.Id == "screw-ungraded").i;
        yield return "Table A, causes: machines that the plate makes worse, with one cause taken away at a time; figures without goals";
        yield return string.Create(CultureInfo.InvariantCulture, $"  seed {seed}, {machines} machines for each, the same machines; made worse in %: all, {string.Join(", ", hands)}, ungraded screws; rms and p95 in mm");
        foreach (var (name, change) in _causes)
        {
            Outcome[] right = [.. HarmRun.Over(change(population), plate, seed, machines).Where(outcome => outcome.RightNominal)];
            string[] cells =
            [
                Worse(right), .. hands.Select(hand => Worse([.. right.Where(o => o.Hand == hand)])), Worse([.. right.Where(o => o.Drive == ungraded)]),
                Three(HarmRun.RootMeanSquare(right.Select(o => o.After))), Three(HarmRun.Quantile(right.Select(o => o.After), 0.95)),
            ];
            yield return "  " + name.PadRight(46) + string.Concat(cells.Select(cell => cell.PadLeft(8)));
        }
    }

    private static string Three(double value) => value.ToString("F3", CultureInfo.InvariantCulture);

    private static string Worse(Outcome[] own) => own.Length == 0 ? "none" : (100.0 * own.Count(o => o.Worse) / own.Length).ToString("F2", CultureInfo.InvariantCulture);
}
