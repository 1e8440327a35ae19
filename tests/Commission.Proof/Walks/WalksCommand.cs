using System.Globalization;
using Commission.App.Rehearsal;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Procedures;
using Commission.Practice.Bench;
using Commission.Proof.Tables;
using Commission.Workshop.Ports;

namespace Commission.Proof.Walks;

/// <summary><c>walks [--seeds N]</c>: the whole order of work on so many practice machines, and how often the truth lay inside U, parameter by parameter.</summary>
internal static class WalksCommand
{
    // Results of one walk share instruments and a hand, and truth is asked of 95 %.
    private const double LeastInside = 0.93;
    private const double LeastOfOne = 0.80;
    private const int FewestOfOne = 30;

    /// <summary>Walks and prints.</summary>
    /// <returns>0 where every walk ended and the shares hold, else 1.</returns>
    public static int Run(int seeds)
    {
        var stations = Walk.Order.Select(Station).ToArray();
        var results = new List<WalkResult>();
        var (unfinished, changes, faults) = (0, 0, 0);
        for (var seed = 1UL; seed <= (ulong)seeds; seed++)
        {
            using var journal = new MemoryJournal(StoreNature.Practice, "walks", "proof", TimeProvider.System);
            using var printed = new StringWriter();
            results.AddRange(new Walk(journal, printed).Run(stations, PracticeBench.Heron(seed), seed).Require());
            var lines = printed.ToString().Split('\n');
            unfinished += lines.Count(line => line.StartsWith("ended: ", StringComparison.Ordinal) && !line.StartsWith("ended: completed", StringComparison.Ordinal));
            var findings = journal.Entries().Select(entry => entry.Body).OfType<EntryBody.FindingMade>().ToArray();
            changes += findings.Count(made => made.Finding.Advice.Action == AdviceAction.Change);
            faults += findings.Count(made => made.Finding.Advice.Action == AdviceAction.FindTheFault);
        }

        var judged = results.Where(result => result.Inside is not null).ToArray();
        var held = true;
        Say($"Walks: {seeds} machines, {judged.Length} results with U, {unfinished} runs not completed, {changes} changes and {faults} faults advised");
        foreach (var group in judged.GroupBy(result => $"{result.Characteristic} {Family(result.Parameter)}").OrderBy(group => group.Key, StringComparer.Ordinal))
        {
            var inside = group.Count(result => result.Inside == true);
            var good = group.Count() < FewestOfOne || inside >= LeastOfOne * group.Count();
            held &= good;
            Say($"  {group.Key,-38} {inside,5} of {group.Count(),5} inside U{(good ? "" : "  MISSED")}");
        }

        var all = judged.Count(result => result.Inside == true) / (double)Math.Max(1, judged.Length);
        held &= all >= LeastInside && unfinished == 0;
        Say($"  {"all",-38} {100 * all:0.0} % inside U, goal {100 * LeastInside:0} %{(held ? "" : "  MISSED")}");
        return held ? 0 : 1;
    }

    private static string Family(string parameter) => parameter.Split('[')[0];

    private static void Say(FormattableString text) => Console.WriteLine(text.ToString(CultureInfo.InvariantCulture));

    private static WalkStation Station(string id)
    {
        var file = ProjectFiles.Find($"procedures/{id}.yaml");
        return new WalkStation(ProcedureReader.Read(file, File.ReadAllText(file)).Require(), "proof");
    }
}
