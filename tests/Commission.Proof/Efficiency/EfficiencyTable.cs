using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.Machines;
using Commission.Core.Readings;
using Commission.Practice.Draws;
using Commission.Practice.Instruments;
using Commission.Practice.Operators;
using Commission.Proof.Tables;

namespace Commission.Proof.Efficiency;

/// <summary>Table C: how much of what the readings hold the program gets out of them, and how good the places are that it asks for.</summary>
internal static class EfficiencyTable
{
    private const double ScatterMm = 0.02;
    private const double DigitMm = 0.01;
    private const double ReadingVariance = (ScatterMm * ScatterMm) + (DigitMm * DigitMm / 12);
    private const int MostRounds = 5;
    private const double SlipRate = 0.05;

    public static ProofTable Make(ulong seed, int runs)
    {
        var table = new ProofTable(
            "Table C: efficiency. Variance of the fitted scale error against the Cramer-Rao bound; places against random ones",
            string.Create(CultureInfo.InvariantCulture, $"  seed {seed}, {runs} runs, ten caliper readings with 0.02 mm scatter, no instrument error"),
            "what", "variance / bound", "readings");
        if (CharacteristicKinds.Find("axis-scale") is { } kind)
        {
            Fit(table, kind, seed, runs, 0, "clean readings", 1.02);
            Fit(table, kind, seed, runs, SlipRate, "5 % slips, questioned readings taken again", 1.15);
        }

        Places(table, seed, 10_000);
        return table;
    }

    private static void Fit(ProofTable table, CharacteristicKind kind, ulong seed, int runs, double slips, string words, double atMost)
    {
        var errors = new double[runs];
        var readings = new int[runs];
        Parallel.For(0, runs, i => (errors[i], readings[i]) = Run(kind, new DrawSource(seed).For(words, i), slips));
        var taken = readings.Average();
        var bound = Information.LeastVariance(Rows(ScalePlaces.Planned), ReadingVariance, 1) * ScalePlaces.Planned.Count / taken;
        var ratio = errors.Average(error => error * error) / bound;
        table.Row(words, ratio.ToString("F3", CultureInfo.InvariantCulture), taken.ToString("F2", CultureInfo.InvariantCulture));
        var slack = 3 * Math.Sqrt(2.0 / runs);
        table.Ask(string.Create(CultureInfo.InvariantCulture, $"axis-scale, {words}: variance at most {atMost} of the bound"),
            string.Create(CultureInfo.InvariantCulture, $"{ratio:F3}, scatter of this figure {Math.Sqrt(2.0 / runs):F3}"), ratio <= atMost + slack);
    }

    /// <summary>One set of readings; where slips happen, questioned readings are taken again until none is questioned.</summary>
    private static (double Error, int Readings) Run(CharacteristicKind kind, DrawSource source, double slips)
    {
        var truth = 300e-6 * source.NextNormal();
        var person = new PracticeOperator(
            new Hand { Name = "proof", ReadingSdMm = ScatterMm, SlipRate = slips }, SlipHabits.Usual, source.For("hand"));
        var values = ScalePlaces.Planned.Select(place => Read(person, place, truth)).ToArray();
        var taken = values.Length;
        var finding = Evaluate(kind, values);
        for (var round = 0; slips > 0 && round < MostRounds; round++)
        {
            int[] questioned = [.. finding.Suspects.Select(suspect => suspect.Row).Where(row => row > 0).Distinct()];
            if (questioned.Length == 0)
                break;
            foreach (var row in questioned)
                values[row - 1] = Read(person, ScalePlaces.Planned[row - 1], truth);
            taken += questioned.Length;
            finding = Evaluate(kind, values);
        }

        return (finding.Headline.Value!.Value - truth, taken);
    }

    private static double Read(PracticeOperator person, (double Mm, int From) place, double scale) =>
        person.Caliper(Perfect, ((1 + scale) * place.Mm) - (place.From * 0.02));

    private static PracticeInstrument Perfect { get; } = new()
    {
        Name = "perfect", LimitMm = 0, ResolutionMm = DigitMm, RangeMm = 150, Error = new ErrorCurve(0, 150),
    };

    private static Finding Evaluate(CharacteristicKind kind, double[] values)
    {
        var table = new ReadingTable
        {
            Source = "proof",
            Columns = ["commanded_mm", "measured_mm", "direction"],
            Rows = [.. values.Select((value, i) => new ReadingRow
            {
                Number = i + 1,
                Numbers = System.Collections.Immutable.ImmutableDictionary<string, double>.Empty
                    .Add("commanded_mm", ScalePlaces.Planned[i].Mm).Add("measured_mm", value),
                Words = System.Collections.Immutable.ImmutableDictionary<string, string>.Empty
                    .Add("direction", ScalePlaces.Planned[i].From > 0 ? "+" : "-"),
            })],
        };
        var options = new FitOptions
        {
            Axis = AxisName.X,
            StepsPerMm = 320,
            Hand = new Core.Instruments.HandStudy("proof", "caliper", Math.Sqrt(ReadingVariance), 14),
        };
        return kind.Evaluate(table, options).Require();
    }

    private static void Places(ProofTable table, ulong seed, int designs)
    {
        var planned = Variance(ScalePlaces.Planned);
        var best = double.PositiveInfinity;
        var source = new DrawSource(seed).For("designs");
        for (var i = 0; i < designs; i++)
            best = Math.Min(best, Variance(ScalePlaces.Random(source)));
        var ratio = Math.Sqrt(planned / best);
        table.Row("planned places / best of 10 000 random", ratio.ToString("F3", CultureInfo.InvariantCulture), "10");
        table.Ask("planned places: u within 2 % of the best of 10 000 random designs of the same cost",
            string.Create(CultureInfo.InvariantCulture, $"{ratio:F3}"), ratio <= 1.02);
        var even = Variance(ScalePlaces.Even);
        table.Row("readings that even spacing needs for the same u", (even / planned).ToString("F2", CultureInfo.InvariantCulture),
            Math.Ceiling(10 * even / planned).ToString("F0", CultureInfo.InvariantCulture));
    }

    private static double Variance(IReadOnlyList<(double Mm, int From)> places) => Information.LeastVariance(Rows(places), 1, 1);

    private static List<double[]> Rows(IReadOnlyList<(double Mm, int From)> places) =>
        [.. places.Select(place => new[] { 1, place.Mm, place.From / 2.0 })];
}
