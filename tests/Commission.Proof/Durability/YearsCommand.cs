using System.Collections.Immutable;
using System.Diagnostics;
using System.Globalization;
using Commission.Adapters.Storage;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Workshop.Ports;

namespace Commission.Proof.Durability;

/// <summary><c>years [--short]</c>: ten machines, twenty years, half a million readings. Opening, appending, trend and the growing back of the index, by size.</summary>
internal static class YearsCommand
{
    private const int Machines = 10;
    private const int ReadingsOfRun = 30;

    internal static int Run(bool brief)
    {
        int[] sizes = brief ? [1000, 10_000] : [1000, 10_000, 100_000, 500_000];
        Console.Out.WriteLine("readings   open ms   append us   index s   trend ms (results)   MB");
        var first = 0.0;
        foreach (var readings in sizes)
        {
            var folder = Directory.CreateTempSubdirectory("commission-years-").FullName;
            try
            {
                first = One(folder, readings, first);
            }
            finally
            {
                Directory.Delete(folder, recursive: true);
            }
        }

        return 0;
    }

    // The past comes in as an export does, since writing it entry by entry would flush half a million times.
    private static double One(string folder, int readings, double first)
    {
        using (var journal = Open(folder))
            journal.Import(Past(readings), "past").Require();
        var clock = Stopwatch.StartNew();
        using var opened = Open(folder);
        var open = clock.Elapsed.TotalMilliseconds;
        clock.Restart();
        for (var count = 0; count < 200; count++)
            opened.Append(KillRun.Reading(count + 1)).Require();
        var append = clock.Elapsed.TotalMicroseconds / 200;
        clock.Restart();
        using var index = LedgerIndex.Open(opened).Require();
        var grow = clock.Elapsed.TotalSeconds;
        index.Trend("machine 3", "axis-scale", "X");
        clock.Restart();
        var results = index.Trend("machine 3", "axis-scale", "X").Count;
        var trend = clock.Elapsed.TotalMilliseconds;
        var bytes = Directory.GetFiles(folder, "*", SearchOption.AllDirectories).Sum(file => new FileInfo(file).Length);
        Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{readings,8} {open,9:F0} {append,11:F0} {grow,9:F2} {trend,10:F1} ({results}) {bytes / 1e6,12:F1}{(first > 0 ? $"   append x {append / first:F2} of the smallest" : "")}"));
        return first > 0 ? first : append;
    }

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
