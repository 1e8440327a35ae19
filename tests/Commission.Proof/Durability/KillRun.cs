using System.Diagnostics;
using System.Globalization;
using Commission.Adapters.Storage;
using Commission.Core.History;
using Commission.Workshop.Ports;

namespace Commission.Proof.Durability;

/// <summary>Kills a child that takes readings, at random moments, and compares what the store holds with what the child had acknowledged.</summary>
internal static class KillRun
{
    /// <summary>The word that makes this program the child.</summary>
    internal const string ChildWord = "durability-child";

    /// <summary>The reading with a number; its value is not a round one, so that an altered digit shows.</summary>
    internal static EntryBody.ReadingTaken Reading(int recorded) => new()
    {
        Recorded = recorded, Step = "readings", Cell = recorded - 1, Place = "far", Typed = (recorded / 7.0).ToString("R", CultureInfo.InvariantCulture), Value = recorded / 7.0, Unit = "mm", Machine = "Heron",
    };

    /// <summary>Takes readings for ever and tells each one once it is acknowledged.</summary>
    internal static int Child(string folder)
    {
        using var journal = Open(folder);
        var recorded = journal.Entries().Count(entry => entry.Body is EntryBody.ReadingTaken);
        while (true)
        {
            journal.Append(Reading(++recorded)).Require();
            Console.Out.WriteLine(recorded.ToString(CultureInfo.InvariantCulture));
            Console.Out.Flush();
        }
    }

    /// <summary>Kills that many children, one store for every ten.</summary>
    /// <returns>Number of acknowledged readings compared.</returns>
    /// <exception cref="InvalidOperationException">An acknowledged reading was lost or altered, or a store did not open.</exception>
    internal static long Run(int kills, int seed)
    {
        var random = new Random(seed);
        long compared = 0;
        for (var kill = 0; kill < kills; kill += 10)
        {
            using var folder = new TemporaryFolder();
            for (var again = 0; again < Math.Min(10, kills - kill); again++)
                compared += KillOne(folder.Path, random.Next(1, 40), kill + again);
        }

        return compared;
    }

    private static int KillOne(string folder, int after, int kill)
    {
        var start = new ProcessStartInfo(Environment.ProcessPath!) { RedirectStandardOutput = true };
        if (Path.GetFileNameWithoutExtension(Environment.ProcessPath) == "dotnet")
            start.ArgumentList.Add(typeof(KillRun).Assembly.Location);
        start.ArgumentList.Add(ChildWord);
        start.ArgumentList.Add(folder);
        using var child = Process.Start(start)!;
        var last = 0;
        for (var told = 0; told < after && child.StandardOutput.ReadLine() is { } line; told++)
            last = int.Parse(line, CultureInfo.InvariantCulture);
        child.Kill();

        // What was acknowledged before the kill arrived is still in the pipe; the last line of it may be cut.
        foreach (var line in child.StandardOutput.ReadToEnd().Split('\n')[..^1])
            last = int.Parse(line, CultureInfo.InvariantCulture);
        child.WaitForExit();

        using var journal = Open(folder);
        var there = journal.Entries().Select(entry => entry.Body).OfType<EntryBody.ReadingTaken>().ToList();
        if (last == 0 || there.Count < last || there.Select((taken, at) => taken.Value != Reading(at + 1).Value).Any(differs => differs))
            throw new InvalidOperationException($"kill {kill}: {last} readings were acknowledged and {there.Count} are there, or one was altered");
        return last;
    }

    private static IJournal Open(string folder)
    {
        var journal = JournalFolder.Open(folder, new JournalOpening
        {
            Nature = StoreNature.Practice, Program = "proof", Clock = TimeProvider.System, NewStore = () => "proof1", SegmentBytes = 20_000,
        }).Require();
        return journal.ReadOnlyReason is { } reason ? throw new InvalidOperationException(reason) : journal;
    }
}
