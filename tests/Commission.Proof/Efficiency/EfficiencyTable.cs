using Commission.Core.Readings;
using Commission.Practice.Draws;
using Commission.Practice.Instruments;
using Commission.Practice.Operators;

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

    /// <summary>One way of taking readings.</summary>
    /// <param name="Words">Its name in the table.</param>
    /// <param name="Slips">Share of readings with a slip.</param>
    /// <param name="Times">How often the ten places are read.</param>
    /// <param name="Freedom">Degrees of freedom of the study; without end: the scatter is known.</param>
    private sealed record Way(string Words, double Slips, int Times = 1, int Freedom = StudyFreedom)
    {
        public (double Mm, int From)[] Places { get; } = [.. Enumerable.Repeat(ScalePlaces.Planned, Times).SelectMany(places => places)];
    }

    /// <summary>What one set gave.</summary>
    /// <param name="Error">Error of the scale.</param>
    /// <param name="Readings">Readings taken, those taken again included.</param>
    /// <param name="Asked">Whether anything was asked at first.</param>
    /// <param name="Left">Largest slip that stayed, mm; 0 for none.</param>
    private readonly record struct Set(double Error, int Readings, bool Asked, double Left);

    public static ProofTable Make(ulong seed, int runs, int designs)
    {
        var table = new ProofTable(
            "Table C: efficiency. Variance of the fitted scale error against the Cramer-Rao bound; places against random ones",
            string.Create(CultureInfo.InvariantCulture, $"  seed {seed}, {runs} runs, ten caliper readings with 0.02 mm scatter, no instrument error"),
            "what", "variance / bound", "readings");
        if (CharacteristicKinds.Find("axis-scale") is { } kind)
        {
            Clean(table, kind, seed, runs);
            WithSlips(table, kind, seed, runs);
        }

        PlacesCheck.Into(table, seed, designs);
        PlacesCheck.Readings(table);
        return table;
    }

    private static void Clean(ProofTable table, CharacteristicKind kind, ulong seed, int runs)
    {
        var way = new Way("clean readings", 0);
        var sets = Take(kind, seed, runs, way);
        var ratio = Told(table, way, sets);
        table.AskShare("axis-scale: clean sets asked about, at most 1 %", sets.Count(set => set.Asked), runs, 0.01);
        table.Ask("axis-scale, clean readings: variance at most 1.02 of the bound", Found(ratio, runs), ratio <= 1.02 + Slack(runs));
    }

    private static void WithSlips(ProofTable table, CharacteristicKind kind, ulong seed, int runs)
    {
        var way = new Way("5 % slips, questioned readings taken again", SlipRate);
        var sets = Take(kind, seed, runs, way);
        var ratio = Told(table, way, sets);
        var bound = Bound(way);
        table.Row("  sets asked about", Percent(sets.Count(set => set.Asked), runs), "");
        foreach (var (words, part) in new (string, Func<Set, bool>)[]
        {
            ("no slip stayed", set => set.Left == 0), ("a slip of 0.1 mm stayed", set => set.Left is > 0 and < 0.15), ("a larger slip stayed", set => set.Left >= 0.15),
        })
        {
            Set[] own = [.. sets.Where(part)];
            table.Row($"  of it: {words} ({Percent(own.Length, runs)} of sets)", (own.Sum(set => set.Error * set.Error) / runs / bound).ToString("F3", CultureInfo.InvariantCulture), "");
        }

        foreach (var other in new Way[] { new("  the same, the scatter known exactly", SlipRate, 1, 1_000_000), new("  the same, every place read twice", SlipRate, 2) })
            Told(table, other, Take(kind, seed, runs, other));
        const string goal = "axis-scale, 5 % slips, questioned readings taken again: variance at most 1.15 of the bound";
        table.Confess(goal, Found(ratio, runs), ratio <= 1.15 + Slack(runs),
            "a slip of 0.1 mm is four standard deviations of what ten readings leave of it, and a test that leaves 99 clean sets of 100 alone lets nearly half of them pass");
        table.Ask("axis-scale, with slips: variance at most 1.29 of the bound, what this test reaches", Found(ratio, runs), ratio <= 1.29 + Slack(runs));
    }

    private static Set[] Take(CharacteristicKind kind, ulong seed, int runs, Way way)
    {
        var sets = new Set[runs];
        Parallel.For(0, runs, i => sets[i] = Run(kind, new DrawSource(seed).For(way.Words.Trim(), i), way));
        return sets;
    }

    private static double Bound(Way way) => Information.LeastVariance(Rows(way.Places), ReadingVariance, 1);

    // The bound for as many readings as were really taken.
    private static double Told(ProofTable table, Way way, Set[] sets)
    {
        var taken = sets.Average(set => set.Readings);
        var ratio = sets.Average(set => set.Error * set.Error) / (Bound(way) * way.Places.Length / taken);
        table.Row(way.Words, ratio.ToString("F3", CultureInfo.InvariantCulture), taken.ToString("F2", CultureInfo.InvariantCulture));
        return ratio;
    }

    private static double Slack(int runs) => 3 * Math.Sqrt(2.0 / runs);

    private static string Found(double ratio, int runs) => string.Create(CultureInfo.InvariantCulture, $"{ratio:F3}, scatter of this figure {Math.Sqrt(2.0 / runs):F3}");

    private static string Percent(int count, int of) => (100.0 * count / of).ToString("F1", CultureInfo.InvariantCulture) + " %";

    /// <summary>One set of readings; where slips happen, questioned readings are taken again until none is questioned.</summary>
    private static Set Run(CharacteristicKind kind, DrawSource source, Way way)
    {
        var truth = 300e-6 * source.NextNormal();
        var person = new PracticeOperator(
            new Hand { Name = "proof", ReadingSdMm = ScatterMm, SlipRate = way.Slips }, SlipHabits.Usual, source.For("hand"));
        var slipped = new bool[way.Places.Length];
        double Take(int i)
        {
            var before = person.Slips;
            var value = Read(person, way.Places[i], truth);
            slipped[i] = person.Slips > before;
            return value;
        }

        double[] values = [.. Enumerable.Range(0, way.Places.Length).Select(Take)];
        var taken = values.Length;
        var study = new Core.Instruments.HandStudy("proof", "caliper", way.Freedom > 1000 ? Math.Sqrt(ReadingVariance) : Study(source.For("study")), way.Freedom);
        var finding = Evaluate(kind, way.Places, values, study);
        var asked = finding.Suspects.Length > 0;
        for (var round = 0; way.Slips > 0 && round < MostRounds; round++)
        {
            int[] questioned = [.. finding.Suspects.Select(suspect => suspect.Row).Where(row => row > 0).Distinct()];
            if (questioned.Length == 0)
                break;
            foreach (var row in questioned)
                values[row - 1] = Take(row - 1);
            taken += questioned.Length;
            finding = Evaluate(kind, way.Places, values, study);
        }

        // Digits that are alike and change places do nothing; half a slip of 0.1 mm tells the others from scatter.
        var left = Enumerable.Range(0, values.Length).Where(i => slipped[i]).Select(i => Math.Abs(values[i] - Expected(way.Places[i], truth))).DefaultIfEmpty().Max();
        return new Set(finding.Headline.Value!.Value - truth, taken, asked, left > 0.045 ? left : 0);
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
        person.Caliper(Perfect, Expected(place, scale));

    private static double Expected((double Mm, int From) place, double scale) => ((1 + scale) * place.Mm) - (place.From * 0.02);

    private static PracticeInstrument Perfect { get; } = new()
    {
        Name = "perfect", LimitMm = 0, ResolutionMm = DigitMm, RangeMm = 150, Error = new ErrorCurve(0, 150),
    };

    private static Finding Evaluate(CharacteristicKind kind, (double Mm, int From)[] places, double[] values, Core.Instruments.HandStudy study)
    {
        var table = new ReadingTable
        {
            Source = "proof",
            Columns = ["commanded_mm", "measured_mm", "direction"],
            Rows = [.. values.Select((value, i) => new ReadingRow
            {
                Number = i + 1,
                Numbers = System.Collections.Immutable.ImmutableDictionary<string, double>.Empty
                    .Add("commanded_mm", places[i].Mm).Add("measured_mm", value),
                Words = System.Collections.Immutable.ImmutableDictionary<string, string>.Empty
                    .Add("direction", places[i].From > 0 ? "+" : "-"),
            })],
        };
        var options = new FitOptions
        {
            Axis = AxisName.X,
            StepsPerMm = 320,
            Hand = study,
        };
        return kind.Evaluate(table, options).Require();
    }

    private static List<double[]> Rows(IReadOnlyList<(double Mm, int From)> places) =>
        [.. places.Select(place => new[] { 1, place.Mm, place.From / 2.0 })];
}
