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
    private const int StudyFreedom = 14;
    private const double SlipRate = 0.05;

    public static ProofTable Make(ulong seed, int runs, int designs)
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

        PlacesCheck.Into(table, seed, designs);
        PlacesCheck.Readings(table);
        return table;
    }

    private static void Fit(ProofTable table, CharacteristicKind kind, ulong seed, int runs, double slips, string words, double atMost)
    {
        var errors = new double[runs];
        var readings = new int[runs];
        var asked = 0;
        Parallel.For(0, runs, i =>
        {
            (errors[i], readings[i], var first) = Run(kind, new DrawSource(seed).For(words, i), slips);
            if (first)
                Interlocked.Increment(ref asked);
        });
        var taken = readings.Average();
        var bound = Information.LeastVariance(Rows(ScalePlaces.Planned), ReadingVariance, 1) * ScalePlaces.Planned.Count / taken;
        var ratio = errors.Average(error => error * error) / bound;
        table.Row(words, ratio.ToString("F3", CultureInfo.InvariantCulture), taken.ToString("F2", CultureInfo.InvariantCulture));
        if (slips == 0)
            table.AskShare("axis-scale: clean sets asked about, at most 1 %", asked, runs, 0.01);
        else
            table.Row("sets asked about", (100.0 * asked / runs).ToString("F1", CultureInfo.InvariantCulture) + " %", "");
        var slack = 3 * Math.Sqrt(2.0 / runs);
        var found = string.Create(CultureInfo.InvariantCulture, $"{ratio:F3}, scatter of this figure {Math.Sqrt(2.0 / runs):F3}");
        var goal = string.Create(CultureInfo.InvariantCulture, $"axis-scale, {words}: variance at most {atMost} of the bound");
        if (slips == 0)
        {
            table.Ask(goal, found, ratio <= atMost + slack);
            return;
        }

        table.Confess(goal, found, ratio <= atMost + slack,
            "slips of 0.1 mm are five standard deviations, and a test that asks about at most one clean set in a hundred lets a third of them pass");
        table.Ask("axis-scale, with slips: variance at most 1.32 of the bound, what this test reaches", found, ratio <= 1.32 + slack);
    }

    /// <summary>One set of readings; where slips happen, questioned readings are taken again until none is questioned.</summary>
    private static (double Error, int Readings, bool Asked) Run(CharacteristicKind kind, DrawSource source, double slips)
    {
        var truth = 300e-6 * source.NextNormal();
        var person = new PracticeOperator(
            new Hand { Name = "proof", ReadingSdMm = ScatterMm, SlipRate = slips }, SlipHabits.Usual, source.For("hand"));
        var values = ScalePlaces.Planned.Select(place => Read(person, place, truth)).ToArray();
        var taken = values.Length;
        var study = Study(source.For("study"));
        var finding = Evaluate(kind, values, study);
        var asked = finding.Suspects.Length > 0;
        for (var round = 0; slips > 0 && round < MostRounds; round++)
        {
            int[] questioned = [.. finding.Suspects.Select(suspect => suspect.Row).Where(row => row > 0).Distinct()];
            if (questioned.Length == 0)
                break;
            foreach (var row in questioned)
                values[row - 1] = Read(person, ScalePlaces.Planned[row - 1], truth);
            taken += questioned.Length;
            finding = Evaluate(kind, values, study);
        }

        return (finding.Headline.Value!.Value - truth, taken, asked);
    }

    /// <summary>The operator's gauge study: its standard deviation scatters as fourteen degrees of freedom let it.</summary>
    private static double Study(DrawSource source)
    {
        var chi = 0.0;
        for (var i = 0; i < StudyFreedom; i++)
        {
            var z = source.NextNormal();
            chi += z * z;
        }

        return Math.Sqrt(ReadingVariance * chi / StudyFreedom);
    }

    private static double Read(PracticeOperator person, (double Mm, int From) place, double scale) =>
        person.Caliper(Perfect, ((1 + scale) * place.Mm) - (place.From * 0.02));

    private static PracticeInstrument Perfect { get; } = new()
    {
        Name = "perfect", LimitMm = 0, ResolutionMm = DigitMm, RangeMm = 150, Error = new ErrorCurve(0, 150),
    };

    private static Finding Evaluate(CharacteristicKind kind, double[] values, double study)
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
            Hand = new Core.Instruments.HandStudy("proof", "caliper", study, StudyFreedom),
        };
        return kind.Evaluate(table, options).Require();
    }

    private static List<double[]> Rows(IReadOnlyList<(double Mm, int From)> places) =>
        [.. places.Select(place => new[] { 1, place.Mm, place.From / 2.0 })];
}
