using System.CommandLine;
using System.Text.Json;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Workshop.Requests;

namespace Commission.App.CommandLine;

/// <summary><c>history list|show</c>, with the words for whole journals beside them.</summary>
internal sealed class HistoryVerb(Workbench bench) : IVerb
{
    /// <inheritdoc/>
    public Command Declare() => new("history", "What was done, read, found and changed")
    {
        List(),
        Show(),
        new HistoryChanges(bench).Change(),
        new HistoryChanges(bench).Withdraw(),
        new HistoryChanges(bench).Recompute(),
        new HistoryChanges(bench).Next(),
        new HistoryTrend(bench).Declare(),
        new HistoryAdopt(bench).Declare(),
        new HistoryFiles(bench).Export(),
        new HistoryFiles(bench).Import(),
        new HistoryFiles(bench).Check(),
        new HistoryFiles(bench).Backup(),
    };

    private Command List()
    {
        var all = new Option<bool>("--all") { Description = "Every entry, not only runs, findings, changes and settings" };
        var command = new Command("list", "The journal in lines, oldest first") { all };
        command.SetAction(parsed => Tell(parsed, entries => entries.Where(entry => parsed.GetValue(all) || Listed(entry.Body))));
        return command;
    }

    private Command Show()
    {
        var number = new Argument<string>("NUMBER") { Description = "Number of an entry, as history list shows it" };
        var command = new Command("show", "One entry with all that belongs to it: a run with its readings, a finding with its numbers") { number };
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            if (!long.TryParse(parsed.GetValue(number), System.Globalization.NumberStyles.None, System.Globalization.CultureInfo.InvariantCulture, out var wanted))
                return answer.Problem($"\"{Words.Clean(parsed.GetValue(number)!)}\" is not the number of an entry", "See history list");
            return bench.Read<ShowEntry.Shown>(parsed, journal => ShowEntry.From(journal.Entries(), wanted)).Match(
                shown => Told(answer, shown, Common.Shown(parsed)),
                problems => answer.Problems(problems));
        });
        return command;
    }

    private static int Told(Answer answer, ShowEntry.Shown shown, ShownUnits units)
    {
        if (answer.Json && shown.Entry.Body is EntryBody.FindingMade made)
        {
            answer.Value(writer => FindingJson.Write(writer, made.Finding));
            return ExitCode.Done;
        }

        if (answer.Json)
        {
            answer.Value(writer => Write(writer, [shown.Entry, .. shown.Belonging]));
            return ExitCode.Done;
        }

        answer.Text([EntryText.Line(shown.Entry, units), .. shown.Belonging.Select(entry => EntryText.Line(entry, units))]);
        if (shown.Entry.Body is EntryBody.FindingMade finding)
            answer.Text(FindingText.Lines(finding.Finding, finding.Options.Coverage, units).Select(line => "        " + line));
        return ExitCode.Done;
    }

    private int Tell(ParseResult parsed, Func<IEnumerable<JournalEntry>, IEnumerable<JournalEntry>> choose)
    {
        var answer = bench.Answer(parsed);
        var machine = parsed.GetValue(Common.Machine);
        return bench.Read<List<JournalEntry>>(parsed, journal => choose(journal.Entries()).Where(e => machine is null || e.Body.Machine is null || e.Body.Machine == machine).ToList()).Match(
            entries =>
            {
                if (answer.Json)
                    answer.Value(writer => Write(writer, entries));
                else
                    answer.Text(entries.Select(entry => EntryText.Line(entry, Common.Shown(parsed))));
                return ExitCode.Done;
            },
            problems => answer.Problems(problems));
    }

    private static bool Listed(EntryBody body) => body is not (EntryBody.ReadingTaken or EntryBody.Confirmed or EntryBody.Moved or EntryBody.Checked);

    private static void Write(Utf8JsonWriter writer, IEnumerable<JournalEntry> entries)
    {
        writer.WriteStartObject();
        writer.WriteString("format", "commission.history/1");
        writer.WriteStartArray("entries");
        foreach (var entry in entries)
        {
            writer.WriteStartObject();
            writer.WriteString("id", entry.Id);
            writer.WriteNumber("sequence", entry.Sequence);
            writer.WriteString("at", entry.At.ToString("yyyy-MM-ddTHH:mm:ss.fffzzz", System.Globalization.CultureInfo.InvariantCulture));
            writer.WriteString("machine", entry.Body.Machine);
            writer.WriteString("text", Words.Clean(EntryText.What(entry.Body)));
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
        writer.WriteEndObject();
    }
}
