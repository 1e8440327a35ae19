using Commission.Proof.Durability;
using Commission.Proof.Link;

namespace Commission.Proof.Faults;

/// <summary>Table F: what was done to the program, how often it survived, and what was lost.</summary>
internal static class FaultTable
{
    public static ProofTable Make(ulong seed, bool isShort)
    {
        var table = new ProofTable(
            "Table F: faults. Survived: it went on, or refused in words; lost: acknowledged readings gone or altered without a word",
            string.Create(CultureInfo.InvariantCulture, $"  seed {seed}"), "fault", "tried", "survived", "lost");
        var (kills, cuts, flips, inputs) = isShort ? (20, 60, 100, 4000) : (1000, 300, 2000, 200_000);
        Row(table, "process killed while readings are taken", kills, Tried(() => KillRun.Run(kills, (int)(seed % int.MaxValue))));
        Row(table, "power cut while readings are taken", cuts, Tried(() => PowerCuts.Run(cuts, (int)(seed % int.MaxValue))));
        Row(table, "bit flipped in the journal", flips, BitFlips.Silent(seed, flips));
        foreach (var (what, tried, thrown) in FuzzedTexts.Run(seed, inputs))
        {
            table.Row(what, Count(tried), Count(tried - thrown), "0");
            table.Ask(what + ": every one is read or refused in words", Count(tried - thrown) + " of " + Count(tried), thrown == 0);
        }

        Link(table, (int)(seed % int.MaxValue), isShort);
        return table;
    }

    // The short form tries each fault of a link once; more is the task of the commands link-faults and link-fuzz.
    private static void Link(ProofTable table, int seed, bool isShort)
    {
        var (each, lines, files) = isShort ? (1, 20_000, 200) : (100, 1_000_000, 10_000);
        var tally = LinkFaultsCommand.Try(each);
        table.Row("fault of a link during a run", Count(tally.Runs), Count(tally.Runs - tally.Wrong.Count), "0");
        table.Ask("fault of a link: no motion without its confirmation, no reading away from its place", Count(tally.Wrong.Count), tally.Wrong.IsEmpty);
        foreach (var (what, tried, wrong) in new[] { ("answer line of a controller mutated", lines, LinkFuzzCommand.AnswerFaults(lines, seed)), ("dialect file mutated", files, LinkFuzzCommand.FileFaults(files, seed)) })
        {
            table.Row(what, Count(tried), Count(tried - wrong.Count), "0");
            table.Ask(what + ": nothing escapes, hangs, or reaches a person unstripped", Count(wrong.Count), wrong.Count == 0);
        }
    }

    // A run that finds a loss stops there and says so.
    private static int Tried(Action run)
    {
        try
        {
            run();
            return 0;
        }
        catch (InvalidOperationException lost)
        {
            Console.WriteLine(lost.Message);
            return 1;
        }
    }

    private static void Row(ProofTable table, string what, int tried, int lost)
    {
        table.Row(what, Count(tried), Count(tried - lost), Count(lost));
        table.Ask(what + ": nothing acknowledged is lost or altered without a word", Count(lost), lost == 0);
    }

    private static string Count(int count) => count.ToString(CultureInfo.InvariantCulture);
}
