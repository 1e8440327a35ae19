using System.Collections.Immutable;
using System.Diagnostics;
using Commission.Adapters.Storage;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Reports;
using Commission.Core.Upkeep;
using Commission.Workshop.Ports;
using Commission.Workshop.Requests;

namespace Commission.Proof.Durability;

/// <summary><c>years [--short]</c>: ten machines, twenty years, half a million readings. Opening, appending, trend and the growing back of the index, by size.</summary>
internal static class YearsCommand
{
    private const int Machines = 10;
    private const int ReadingsOfRun = 30;

    private const int Appends = 200;

    private const string Chosen = "machine 3";
    private const string HalfWay = "2020-06-01";

    private static readonly DateTimeOffset Now = new(2031, 1, 2, 8, 0, 0, TimeSpan.Zero);

    /// <summary>What one size took; times in seconds.</summary>
    private sealed record Measured(int Readings, double Append, double Empty, double Rebuild, double Bytes)
    {
        /// <summary>Opening the store for writing, and with it what the bench shows.</summary>
        internal double Bench { get; init; }

        /// <summary>Opening for reading, and what is to be done next.</summary>
        internal double Next { get; init; }

        /// <summary>A whole trend of one axis.</summary>
        internal double Trend { get; init; }

        /// <summary>Number of results in it.</summary>
        internal int Results { get; init; }

        /// <summary>The report of one machine.</summary>
        internal double Report { get; init; }

        /// <summary>The report of the same machine as it stood half way.</summary>
        internal double AsOf { get; init; }

        /// <summary>The report that compares half way with now.</summary>
        internal double Against { get; init; }

        /// <summary>Appending here against appending to an empty store, entry by entry in turns.</summary>
        internal double AppendRatio => Append / Empty;
    }

    internal static int Run(bool brief)
    {
        int[] sizes = brief ? [1000, 10_000] : [1000, 10_000, 100_000, 500_000];
        WarmUp();
        Console.Out.WriteLine("readings  bench ms   next ms   append us   empty us   ratio   index s   trend ms (results)  report ms  as of ms  against ms       MB");
        var all = new List<Measured>();
        foreach (var readings in sizes)
        {
            using var folder = new TemporaryFolder();
            all.Add(One(folder.Path, readings));
            Console.Out.WriteLine(Line(all[^1]));
        }

        foreach (var (size, before) in all.Skip(1).Zip(all))
        {
            Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"{before.Readings} -> {size.Readings}, {(double)size.Readings / before.Readings:F0} times the readings: bench x {size.Bench / before.Bench:F2}, next x {size.Next / before.Next:F2}, append x {size.AppendRatio / before.AppendRatio:F2}, index x {size.Rebuild / before.Rebuild:F2}, trend x {size.Trend / before.Trend:F2}, report x {size.Report / before.Report:F2}, as of x {size.AsOf / before.AsOf:F2}, against x {size.Against / before.Against:F2}, bytes x {size.Bytes / before.Bytes:F2}"));
        }

        return Goals(all);
    }

    private static int Goals(List<Measured> all)
    {
        (string What, bool Held)[] goals =
        [
            ("opening takes less than 300 ms, all that the bench shows included", all.TrueForAll(size => size.Bench < 0.3)),
            ("history next takes less than 300 ms", all.TrueForAll(size => size.Next < 0.3)),
            ("a trend takes less than 100 ms", all.TrueForAll(size => size.Trend < 0.1)),
            ("a report of one machine takes less than 1 s", all.TrueForAll(size => size.Report < 1)),
            ("a report as of an earlier day takes less than 1 s, and one that compares it with now", all.TrueForAll(size => size.AsOf < 1 && size.Against < 1)),
            ("appending takes at most a fifth longer than in an empty store", all.TrueForAll(size => size.AppendRatio <= 1.2)),
            ("the index grows back in less than 60 s", all.TrueForAll(size => size.Rebuild < 60)),
        ];
        foreach (var (what, held) in goals)
            Console.Out.WriteLine($"{(held ? "held  " : "MISSED")} {what}");
        return goals.All(goal => goal.Held) ? 0 : 1;
    }

    private static string Line(Measured size) => string.Create(CultureInfo.InvariantCulture,
        $"{size.Readings,8} {size.Bench * 1e3,9:F0} {size.Next * 1e3,9:F0} {size.Append * 1e6,11:F0} {size.Empty * 1e6,10:F0} {size.AppendRatio,7:F2} {size.Rebuild,9:F2} {size.Trend * 1e3,10:F1} {$"({size.Results})",-9} {size.Report * 1e3,10:F0} {size.AsOf * 1e3,9:F0} {size.Against * 1e3,11:F0} {size.Bytes / 1e6,8:F1}");

    // The past comes in as an export does, since writing it entry by entry would flush half a million times.
    /// <summary>A practice store with so many readings of its past.</summary>
    internal static void Store(string folder, int readings)
    {
        using var journal = Open(folder);
        journal.Import(Past(readings), "past").Require();
    }

    private static Measured One(string folder, int readings)
    {
        using (var journal = Open(Path.Combine(folder, "years")))
            journal.Import(Past(readings), "past").Require();
        var (append, empty) = Appending(folder);
        var clock = Stopwatch.StartNew();
        double rebuild;
        using (var grown = Open(Path.Combine(folder, "years")))
        {
            LedgerIndex.Open(grown).Require().Dispose();
            rebuild = clock.Elapsed.TotalSeconds;
        }

        var place = Path.Combine(folder, "years");
        var next = Timed(() => Reading(place, store => new WhatIsNext(store).Run(Chosen, Now)));
        var results = 0;
        var (bench, trend, report, asOf, against) = (0.0, 0.0, 0.0, 0.0, 0.0);
        clock.Restart();
        using (var store = new Stores("proof", TimeProvider.System).Open(place, StoreNature.Practice, write: true).Require())
        {
            Bench(store.Present(Chosen));
            bench = clock.Elapsed.TotalSeconds;
            trend = Timed(() => results = new ShowTrend(store).Run(Chosen, "axis-scale", AxisName.X).Require().Points.Length);
            report = Reported(store, new ReportRequest { Machine = Chosen });
            asOf = Reported(store, new ReportRequest { Machine = Chosen, AsOf = HalfWay });
            against = Reported(store, new ReportRequest { Machine = Chosen, Against = HalfWay });
        }

        var bytes = Directory.GetFiles(folder, "*", SearchOption.AllDirectories).Where(file => !file.Contains("backups", StringComparison.Ordinal)).Sum(file => new FileInfo(file).Length);
        return new Measured(readings, append, empty, rebuild, bytes) { Bench = bench, Next = next, Trend = trend, Results = results, Report = report, AsOf = asOf, Against = against };
    }

    private static double Reported(IStoreFolder store, ReportRequest request) => Timed(() => HtmlReport.Write(new WriteReport(store, "proof").Run(request).Require()));

    // What is made ready on first use is no part of how the times grow; the program that is shipped has nothing to make ready.
    private static void WarmUp()
    {
        using var folder = new TemporaryFolder();
        One(folder.Path, 300);
    }

    private static double Timed(Action act)
    {
        var clock = Stopwatch.StartNew();
        act();
        return clock.Elapsed.TotalSeconds;
    }

    private static void Reading(string place, Func<IStoreFolder, Outcome<Standings>> ask)
    {
        using var store = new Stores("proof", TimeProvider.System).Open(place, StoreNature.Practice, write: false).Require();
        ask(store).Require();
    }

    // Rows, next thing to do, worst corner.
    private static void Bench(PresentState present)
    {
        var machine = present.Ledger.Machines[Chosen].Description;
        var upkeep = new MachineUpkeep(present.Upkeep, machine, Now);
        NextWork.For(upkeep);
        _ = WorkArea.Of(present.Ledger, machine).Sentence;
    }

    // In turns, each as often first as second, and the quicker fifth of them: what else the disk does meanwhile is not the journal's.
    private static (double Append, double Empty) Appending(string folder)
    {
        using var full = Open(Path.Combine(folder, "years"));
        using var empty = Open(Path.Combine(folder, "empty"));
        var taken = new List<(double Full, double Empty)>();
        for (var count = 1; count <= Appends; count++)
        {
            var first = Taking(count % 2 == 0 ? full : empty, count);
            var second = Taking(count % 2 == 0 ? empty : full, count);
            taken.Add(count % 2 == 0 ? (first, second) : (second, first));
        }

        return (Quick(taken.Select(pair => pair.Full)), Quick(taken.Select(pair => pair.Empty)));
    }

    private static double Taking(JournalFolder journal, int count)
    {
        var clock = Stopwatch.StartNew();
        journal.Append(KillRun.Reading(count)).Require();
        return clock.Elapsed.TotalSeconds;
    }

    private static double Quick(IEnumerable<double> values) => values.Order().ElementAt(Appends / 5);

    private static JournalFolder Open(string folder) => (JournalFolder)JournalFolder.Open(folder, new JournalOpening
    {
        Nature = StoreNature.Practice, Program = "proof", Clock = TimeProvider.System, NewStore = () => "years1",
    }).Require();

    private static List<ReadOnlyMemory<byte>> Past(int readings)
    {
        var lines = new List<ReadOnlyMemory<byte>>();
        var previous = JournalLine.NoPrevious;
        var at = new DateTimeOffset(2011, 1, 1, 8, 0, 0, TimeSpan.Zero);
        foreach (var body in Bodies(readings))
        {
            at = at.AddMinutes(20.0 * 365.25 * 24 * 60 / (readings * 1.1));
            var sequence = lines.Count + 1;
            var line = JournalLine.Write(new JournalEntry($"years0:{sequence.ToString(CultureInfo.InvariantCulture)}", sequence, at, body), previous).Require();
            previous = JournalLine.Self(line);
            lines.Add(line);
        }

        return lines;
    }

    private static IEnumerable<EntryBody> Bodies(int readings)
    {
        yield return new EntryBody.StoreBorn(StoreNature.Practice, "years0", "proof");
        for (var machine = 0; machine < Machines; machine++)
            yield return new EntryBody.MachineDescribed(new Machine { Name = Name(machine), TravelMm = [420, 580, 90] }, false) { Machine = Name(machine) };
        long sequence = Machines + 1;
        string[] axes = ["X", "Y", "Z"];
        for (var run = 0; run * ReadingsOfRun < readings; run++)
        {
            var (machine, axis, started) = (Name(run % Machines), axes[run / Machines % axes.Length], ++sequence);
            yield return new EntryBody.RunStarted { Machine = machine, Procedure = "axis-scale", ProcedureHash = "00", Axis = axis };
            for (var recorded = 1; recorded <= ReadingsOfRun; recorded++, sequence++)
                yield return KillRun.Reading(recorded) with { Machine = machine, Run = started };
            yield return Found(machine, axis, started, run);
            yield return new EntryBody.RunEnded("completed", null) { Machine = machine, Run = started };
            sequence += 2;
        }
    }

    private static string Name(int machine) => $"machine {machine.ToString(CultureInfo.InvariantCulture)}";

    private static EntryBody.FindingMade Found(string machine, string axis, long run, int number) => new()
    {
        Machine = machine, Characteristic = "axis-scale", Axis = axis, Run = run, Options = new FitOptions(),
        Readings = [.. Enumerable.Range(1, ReadingsOfRun).Select(recorded => run + recorded)],
        Finding = new Finding
        {
            Kind = "axis-scale", Method = "axis-scale/1", Rows = ReadingsOfRun, Used = ReadingsOfRun, Verdict = Verdict.None,
            Parameters = [.. ImmutableArray.Create("scaleError", "reversal", "zero").Select(name => new FittedParameter { Name = name, Unit = "mm", Value = number / 7e6, StandardUncertainty = 1e-5, ExpandedUncertainty = 2e-5 })],
            Residuals = [.. Enumerable.Range(1, ReadingsOfRun).Select(recorded => recorded / 7e4)],
            Advice = new Advice { Action = AdviceAction.Leave, Because = "it is an example" },
        },
    };
}
