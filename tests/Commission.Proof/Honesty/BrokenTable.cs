using System.Collections.Immutable;
using Commission.Core.Readings;
using Commission.Practice.Draws;
using Commission.Practice.Machines;

namespace Commission.Proof.Honesty;

/// <summary>Table B with an assumption broken: what becomes of U, and how often the program says that something is odd. Figures without goals.</summary>
internal static class BrokenTable
{
    /// <summary>A way in which what is declared does not hold.</summary>
    private sealed record Broken(string What, HonestyCase Test, Func<MachineState, MachineState>? Machine = null);

    private static readonly Broken[] _cases =
    [
        new("nothing broken", HonestyCases.AxisScale()),
        new("caliper one to two times outside its limit", HonestyCases.AxisScale() with { OfLimit = (1, 2) }),
        new("drive 8 K warmer than the caliper, not told", HonestyCases.AxisScale(), state => state with { DriveWarmerK = 8 }),
        new("all positions a whole turn apart, 20 um periodic error", WholeTurns(), state => state with { X = state.X with { PeriodicAmplitudeMm = 0.02 } }),
        new("read-out of the controller typed", HonestyCases.AxisScale() with { Spoil = Copied }),
        new("one reading at an end 0.5 mm off", HonestyCases.AxisScale() with { Spoil = OneEndOff }),
        new("zero of the caliper lost half way, 0.1 mm", HonestyCases.AxisScale() with { Spoil = ZeroLost }),
        new("far end approached from the other side than told", HonestyCases.AxisScale() with { Spoil = OtherSide }),
        new("correction applied the wrong way round, measured again", HonestyCases.AxisScale(), Inverted),
        new("coupon of fibreboard measured next day, 400 ppm longer", HonestyCases.TestCut() with { Spoil = Swollen }),
        new("squareness redrawn at each homing, 0.5 mrad", HonestyCases.Squareness() with { Spoil = Redrawn }),
        new("tape hooked on one diagonal only, 1 mm", HonestyCases.Squareness() with { Spoil = Hooked }),
    ];

    public static ProofTable Make(ulong seed, int runs)
    {
        var table = new ProofTable(
            "Table B, broken assumptions: how often U still holds the truth, how often the program warns, how often it advises a change",
            string.Create(CultureInfo.InvariantCulture,
                $"  seed {seed}, {runs} runs each; warned: a reading or the series is questioned, a fault is to be found, or a remark stands there that the sound run has not"),
            "broken", "characteristic", "truth inside U %", "warned %", "change advised %");
        foreach (var broken in _cases)
        {
            if (CharacteristicKinds.Find(broken.Test.Kind) is { } kind)
                Row(table, broken, kind, seed, runs);
        }

        return table;
    }

    private static void Row(ProofTable table, Broken broken, CharacteristicKind kind, ulong seed, int runs)
    {
        var (inside, judged, warned, changes) = (0, 0, 0, 0);
        var sound = HonestyCases.All.First(test => test.Kind == broken.Test.Kind);
        Parallel.For(0, runs, i =>
        {
            var spoilt = broken.Test.Run(kind, new DrawSource(seed).For("broken", i), broken.Machine);
            if (spoilt.Of(kind.Id, broken.Test.Cells[0].Axis, broken.Test.Parameters[0]) is { } result)
            {
                Interlocked.Increment(ref judged);
                if (Math.Abs(result.Error) <= result.Half)
                    Interlocked.Increment(ref inside);
            }

            var clean = sound.Run(kind, new DrawSource(seed).For("broken", i));
            if (Warns(spoilt, clean))
                Interlocked.Increment(ref warned);
            if (spoilt.Outcome is Core.Outcome<Finding>.Good { Value.Advice.Action: AdviceAction.Change })
                Interlocked.Increment(ref changes);
        });
        table.Row(broken.What, kind.Id, judged == 0 ? "no U" : Share(inside, judged), Share(warned, runs), Share(changes, runs));
    }

    // Remarks carry numbers: the first words tell which one it is.
    private static bool Warns(HonestyRun spoilt, HonestyRun clean)
    {
        if (spoilt.Outcome is not Core.Outcome<Finding>.Good(var finding))
            return true;
        if (finding.Suspects.Length > 0 || finding.Advice.Action == AdviceAction.FindTheFault)
            return true;
        var usual = clean.Outcome is Core.Outcome<Finding>.Good(var sound) ? sound.Remarks.Select(Start).ToHashSet() : [];
        return finding.Remarks.Any(remark => !usual.Contains(Start(remark)));
    }

    private static string Start(string remark) => remark[..Math.Min(24, remark.Length)];

    private static string Share(int count, int of) => (100.0 * count / of).ToString("F1", CultureInfo.InvariantCulture);

    private static HonestyCase WholeTurns()
    {
        var usual = HonestyCases.AxisScale();
        return usual with
        {
            Cells = [.. usual.Cells.Select((cell, i) => cell with { Given = new Dictionary<string, double> { ["commanded_mm"] = i % 2 == 0 ? 5 + (5 * (i / 2 % 2)) : 140 + (5 * (i / 2 % 2)) } })],
        };
    }

    private static MachineState Inverted(MachineState state)
    {
        // The error found is put on once more instead of being taken away: the axis is off by twice what it was.
        var error = (320 / state.X.TrueStepsPerMm) - 1;
        return state with { X = state.X with { TrueStepsPerMm = 320 / (1 + (2 * error)) } };
    }

    private static ReadingTable Change(ReadingTable readings, string column, Func<ReadingRow, int, double, double> change) => readings with
    {
        Rows = [.. readings.Rows.Select((row, i) => With(row, column, change(row, i, row[column])))],
    };

    private static ReadingRow With(ReadingRow row, string column, double value) => row with
    {
        Numbers = row.Numbers.SetItem(column, value),
        Typed = ImmutableDictionary<string, string>.Empty.Add(column, value.ToString("0.00#", CultureInfo.InvariantCulture)),
    };

    private static ReadingTable Copied(ReadingTable readings, DrawSource source) =>
        Change(readings, "measured_mm", (row, _, _) => row["commanded_mm"]);

    private static ReadingTable OneEndOff(ReadingTable readings, DrawSource source)
    {
        var (at, off) = (source.NextIndex(2) == 0 ? 0 : 8, 0.5 * source.NextSign());
        return Change(readings, "measured_mm", (_, i, value) => i == at ? value + off : value);
    }

    private static ReadingTable ZeroLost(ReadingTable readings, DrawSource source)
    {
        var (from, off) = (3 + source.NextIndex(5), 0.1 * source.NextSign());
        return Change(readings, "measured_mm", (_, i, value) => i >= from ? value + off : value);
    }

    // Words say + and -, the machine came from + everywhere: lost motion goes into the near readings told as -.
    private static ReadingTable OtherSide(ReadingTable readings, DrawSource source) => readings with
    {
        Rows = [.. readings.Rows.Select(row => row["commanded_mm"] > 100 ? row with { Words = row.Words.SetItem("direction", row.Words["direction"] == "+" ? "-" : "+") } : row)],
    };

    private static ReadingTable Swollen(ReadingTable readings, DrawSource source) =>
        Change(readings, "measured_mm", (_, _, value) => Math.Round(value * (1 + 400e-6), 2));

    private static ReadingTable Redrawn(ReadingTable readings, DrawSource source)
    {
        double[] homings = [.. Enumerable.Range(0, 4).Select(_ => 0.5e-3 * source.NextNormal())];
        return Change(readings, "distance_mm", (row, i, value) =>
        {
            var (dx, dy) = (row["x2_mm"] - row["x1_mm"], row["y2_mm"] - row["y1_mm"]);
            return Math.Round(value + (homings[Math.Min(3, i / 6)] * dx * dy / Math.Sqrt((dx * dx) + (dy * dy))), 1);
        });
    }

    private static ReadingTable Hooked(ReadingTable readings, DrawSource source) =>
        Change(readings, "distance_mm", (row, _, value) => row["x1_mm"] == 0 && row["x2_mm"] > 0 && row["y2_mm"] > row["y1_mm"] ? value + 1 : value);
}
