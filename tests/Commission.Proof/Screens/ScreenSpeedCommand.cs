using System.Diagnostics;
using System.Runtime.Versioning;
using Commission.Proof.Durability;
using Commission.Tests;

namespace Commission.Proof.Screens;

/// <summary>
/// <c>screens [--program PATH] [--empty PATH] [--short]</c>: what the screens of the published program cost, in a pseudo-terminal on the practice machine with its link running.
/// What is not named is published first, ahead of time; the short form publishes nothing and leaves the comparison out where no empty program is named.
/// </summary>
[SupportedOSPlatform("linux")]
internal static class ScreenSpeedCommand
{
    private const int Readings = 1000;
    private const double MostFrames = 2;
    private const double MostMb = 60;
    private const double LatestKeyMs = 50;
    private const double MostIdle = 0.06;

    // Keys closer than this count once.
    private const int LeastGapMs = 120;

    /// <summary>Prints the table.</summary>
    /// <returns>0; 1 where a goal is missed; 2 where there is nothing to measure.</returns>
    internal static int Run(bool brief, string? program, string? empty)
    {
        using var folder = new TemporaryFolder();
        program ??= brief ? null : Publish("src/Commission.App", folder.At("app"), "commission");
        empty ??= brief ? null : Publish("tests/Commission.EmptyScreen", folder.At("empty"), "empty-screen");
        if (program is null)
        {
            Console.Error.WriteLine("the short form measures a published program. Name it with --program");
            return 2;
        }

        var store = folder.At("store");
        YearsCommand.Store(store, Readings);
        var table = new ProofTable($"Screens, published ahead of time, 80 by 24, {Readings} readings in the store, practice link running", "  a pseudo-terminal that answers nothing", "what", "ours", "goal", "unit");
        FirstFrame(table, program, empty, brief ? 5 : 25);
        Running(table, program, store, brief);
        return table.Show();
    }

    private static string Publish(string project, string into, string name)
    {
        using var publish = Process.Start(new ProcessStartInfo("dotnet", ["publish", Repository.At(project), "-c", "Release", "-o", into, "-v", "q", "-clp:NoSummary"]) { RedirectStandardOutput = true })!;
        var said = publish.StandardOutput.ReadToEnd();
        publish.WaitForExit();
        return publish.ExitCode == 0 ? Path.Combine(into, name) : throw new InvalidOperationException($"{project} could not be published: {said}");
    }

    private static OwnTerminal Open(string program, string store) => new(program, "rehearse", "--keep", "--store", store);

    // In turns: what else the machine does meanwhile meets both alike.
    private static void FirstFrame(ProofTable table, string program, string? empty, int repeats)
    {
        var (ours, bare) = (new List<double>(), new List<double>());
        for (var i = 0; i < repeats; i++)
        {
            using (var terminal = new OwnTerminal(program, "rehearse"))
                ours.Add(Stopwatch.GetElapsedTime(terminal.Began, terminal.Until(" leave")).TotalMilliseconds);
            if (empty is null)
                continue;
            using var nothing = new OwnTerminal(empty);
            bare.Add(Stopwatch.GetElapsedTime(nothing.Began, nothing.Until("empty screen")).TotalMilliseconds);
        }

        var (median, other) = (Median(ours), Median(bare));
        if (empty is null)
            table.Row("first frame, not compared: no --empty", Text(median), "", "ms");
        else
            Row(table, string.Create(CultureInfo.InvariantCulture, $"first frame, {median:F0} ms of an empty program's {other:F0} ms, medians of {repeats}"), median / other, MostFrames, "x");
    }

    private static void Running(ProofTable table, string program, string store, bool brief)
    {
        using var terminal = Open(program, store);
        table.Row("first frame on a store with so many readings", Text(Stopwatch.GetElapsedTime(terminal.Began, terminal.Until(" leave")).TotalMilliseconds), "", "ms");
        // A glance at every place, the newest finding and its picture included: memory that is taken once stays.
        foreach (var (key, shown) in new[] { ("w", "work"), ("f", "findings"), ("t", "trend"), ("k", "kit"), ("m", "machine"), ("l", "log"), ("c", "controller") })
            Press(terminal, key, shown);
        terminal.Type("\r");
        Thread.Sleep(LeastGapMs);
        terminal.Type("s");
        terminal.Until("[STOP F9]");
        var times = Enumerable.Range(0, brief ? 40 : 400).Select(i => Press(terminal, i % 2 == 0 ? "k" : "l", i % 2 == 0 ? "kit" : "log", i)).Order().ToList();
        Row(table, string.Create(CultureInfo.InvariantCulture, $"a key shows, 95th percentile of {times.Count}, median {times[times.Count / 2]:F0} ms"), times[(int)Math.Ceiling(0.95 * times.Count) - 1], LatestKeyMs, "ms");
        Row(table, "share of a core while nobody types", terminal.CoreShare(TimeSpan.FromSeconds(brief ? 4 : 30)), MostIdle, "1");
        Row(table, "resident memory after a look at every place", terminal.ResidentMb, MostMb, "MB");
    }

    // Keys fall at all phases of the screen's turns.
    private static double Press(OwnTerminal terminal, string key, string shown, int at = 0)
    {
        Thread.Sleep(LeastGapMs + (at * 7 % 40));
        var typed = terminal.Type(key);
        return Stopwatch.GetElapsedTime(typed, terminal.Until(shown)).TotalMilliseconds;
    }

    private static double Median(List<double> values) => values.Count == 0 ? double.NaN : values.Order().ElementAt(values.Count / 2);

    private static string Text(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);

    private static void Row(ProofTable table, string what, double ours, double most, string unit)
    {
        table.Row(what, Text(ours), Text(most), unit);
        table.Ask(what, string.Create(CultureInfo.InvariantCulture, $"{ours:0.###} {unit}, goal {most:0.###}"), ours <= most);
    }
}
