using System.CommandLine;
using System.Globalization;
using System.Text.Json;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Workshop.Ports;
using Commission.Workshop.Requests;

namespace Commission.App.CommandLine;

/// <summary><c>history list|show</c>, with the words for whole journals beside them.</summary>
internal sealed class HistoryVerb(Workbench bench) : IVerb
{
    private readonly Option<string?> chain = new("--chain") { Description = "A chain that was brought in, by the id of its store; omitted: the store's own", HelpName = "STORE" };

    /// <inheritdoc/>
    public Command Declare() => new("history", "What was done, read, found and changed")
    {
        List(),
        Show(),
        new HistoryTrend(bench).Declare(),
        new HistoryChanges(bench).Change(),
        new HistoryMarks(bench).Withdraw(),
        new HistoryMarks(bench).Exclude(),
        new HistoryMarks(bench).Note(),
        new HistoryChanges(bench).Recompute(),
        new HistoryChanges(bench).Next(),
        new HistoryAdopt(bench).Declare(),
        new HistoryFiles(bench).Export(),
        new HistoryFiles(bench).Import(),
        new HistoryFiles(bench).Check(),
        new HistoryFiles(bench).Backup(),
    };

    private Command List()
    {
        var all = new Option<bool>("--all") { Description = "Every entry, not only runs, findings, changes and settings" };
        var command = new Command("list", "The journal in lines, oldest first") { all, chain };
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            var machine = parsed.GetValue(Common.Machine);
            return bench.Read<Told>(parsed, store => Entries(parsed, store).Then<Told>(entries => new Told(entries, Ledger.From(entries), Others(parsed, store)))).Match(
                told =>
                {
                    var chosen = told.Entries.Where(entry => (machine is null || entry.Body.Machine is null || entry.Body.Machine == machine) && (parsed.GetValue(all) || Listed(entry.Body))).ToList();
                    if (answer.Json)
                        answer.Value(writer => Write(writer, chosen, told.Ledger));
                    else
                        answer.Text([.. Lines(chosen, told.Ledger, machine is null && told.Ledger.Machines.Count > 1, entry => Common.Shown(parsed, told.Ledger.Machines.GetValueOrDefault(entry.Body.Machine ?? "")?.Description)), .. told.Others]);
                    return ExitCode.Done;
                },
                problems => answer.Problems(problems));
        });
        return command;
    }

    private Command Show()
    {
        var number = new Argument<string>("NUMBER") { Description = "Number of an entry, as history list shows it" };
        var command = new Command("show", "One entry with all that explains it: a run with its readings, a finding with its numbers and its method") { number, chain };
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            return HistoryMarks.WithNumber(answer, parsed.GetValue(number)!, wanted => bench.Read<(ShowEntry.Shown Shown, Ledger Ledger)>(parsed, store => Entries(parsed, store)
                    .Then(entries => ShowEntry.From(entries, wanted).Then<(ShowEntry.Shown, Ledger)>(shown => (shown, Ledger.From(entries))))).Match(
                found => Tell(answer, found.Shown, found.Ledger, Common.Shown(parsed, found.Ledger.Machines.GetValueOrDefault(found.Shown.Entry.Body.Machine ?? "")?.Description)),
                problems => answer.Problems(problems)));
        });
        return command;
    }

    private static int Tell(Answer answer, ShowEntry.Shown shown, Ledger ledger, ShownUnits units)
    {
        if (answer.Json && shown.Entry.Body is EntryBody.FindingMade made)
        {
            answer.Value(writer => FindingJson.Write(writer, made.Finding));
            return ExitCode.Done;
        }

        if (answer.Json)
        {
            answer.Value(writer => Write(writer, [shown.Entry, .. shown.Belonging], ledger));
            return ExitCode.Done;
        }

        answer.Text([EntryText.Line(shown.Entry, units, ledger), .. EntryDetails.Lines(shown.Entry, ledger, units).Select(line => "        " + line)]);
        if (shown.Entry.Body is EntryBody.FindingMade finding)
            answer.Text(FindingText.Lines(finding.Finding, finding.Options.Coverage, units).Select(line => "        " + line));
        answer.Text(shown.Belonging.Select(entry => EntryText.Line(entry, units, ledger) + Words.Clean(EntryDetails.Mark(entry.Sequence, ledger))));
        return ExitCode.Done;
    }

    private Outcome<List<JournalEntry>> Entries(ParseResult parsed, IStoreFolder store) => parsed.GetValue(chain) switch
    {
        null => store.Entries().ToList(),
        { } foreign when store.ForeignStores.Contains(foreign) => store.Foreign(foreign).ToList(),
        { } foreign => new Problem($"no chain of a store \"{Words.Clean(foreign)}\" was brought in", store.ForeignStores.Count == 0 ? "See history import" : "Name one of: " + string.Join(", ", store.ForeignStores)),
    };

    // Chains that were brought in are told apart, never mixed in: their numbers count for themselves.
    private IReadOnlyList<string> Others(ParseResult parsed, IStoreFolder store) => parsed.GetValue(chain) is not null ? []
        : [.. store.ForeignStores.Select(other => string.Create(CultureInfo.InvariantCulture, $"beside it: the chain of store {other}, {store.Foreign(other).Count()} entries; see --chain {other}"))];

    // A new epoch has a line of its own, and a clock that went back is told where it did. Where machines stand side by side each entry names its own.
    private static IEnumerable<string> Lines(List<JournalEntry> entries, Ledger ledger, bool named, Func<JournalEntry, ShownUnits> units)
    {
        JournalEntry? before = null;
        foreach (var entry in entries)
        {
            if (before is { } last && entry.At < last.At)
                yield return "        the clock was set back here; the order of the numbers holds";
            else if (before is { } other && entry.At.Offset != other.At.Offset)
                yield return string.Create(CultureInfo.InvariantCulture, $"        local time is {entry.At:zzz} from here on, {other.At:zzz} before");
            yield return EntryText.Line(entry, units(entry), ledger) + (named && entry.Body.Machine is { } of ? $" ({Words.Clean(of)})" : "") + Words.Clean(EntryDetails.Mark(entry.Sequence, ledger));
            if (entry.Body is EntryBody.ChangeTold { Machine: { } machine } && ledger.Epoch(machine, entry.Sequence) > ledger.Epoch(machine, entry.Sequence - 1))
                yield return string.Create(CultureInfo.InvariantCulture, $"        epoch {ledger.Epoch(machine, entry.Sequence)} of {Words.Clean(machine)} begins");
            before = entry;
        }
    }

    private static bool Listed(EntryBody body) => body is not (EntryBody.ReadingTaken or EntryBody.Confirmed or EntryBody.Moved or EntryBody.Checked) && body.Begun() is null;

    private static void Write(Utf8JsonWriter writer, IEnumerable<JournalEntry> entries, Ledger ledger)
    {
        writer.Document("commission.history/1", () =>
        {
            writer.Objects("entries", entries, entry =>
            {
                writer.WriteString("id", entry.Id);
                writer.WriteNumber("sequence", entry.Sequence);
                writer.WriteString("at", entry.At.ToString("yyyy-MM-ddTHH:mm:ss.fffzzz", CultureInfo.InvariantCulture));
                writer.WriteString("machine", entry.Body.Machine);
                if (entry.Body.Machine is { } machine)
                    writer.WriteNumber("epoch", ledger.Epoch(machine, entry.Sequence));
                writer.WriteString("text", Words.Clean(EntryText.What(entry.Body, ledger: ledger)));
                writer.Texts("details", EntryDetails.Lines(entry, ledger));
            });
        });
    }

    private sealed record Told(List<JournalEntry> Entries, Ledger Ledger, IReadOnlyList<string> Others);
}
