using System.CommandLine;
using System.Globalization;
using System.Text;
using Commission.Core.Reports;
using Commission.Workshop.Ports;
using Commission.Workshop.Requests;

namespace Commission.App.CommandLine;

/// <summary><c>history export|import|check|backup</c>: the journal as a whole.</summary>
internal sealed class HistoryFiles(Workbench bench)
{
    /// <summary>All lines into a file, as they stand.</summary>
    public Command Export()
    {
        var to = new Option<string>("--out") { Description = "The file", HelpName = "FILE.jsonl", Required = true };
        var command = new Command("export", "The whole journal as one file, byte for byte") { to };
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            return bench.Read<string>(parsed, store => Joined(store))
                .Then(text => bench.Files.Write(parsed.GetValue(to)!, text))
                .Match(path => answer.Done($"journal written to {path}"), problems => answer.Problems(problems));
        });
        return command;
    }

    /// <summary>Brings in a journal beside the store's own.</summary>
    public Command Import()
    {
        var from = new Argument<string>("FILE") { Description = "A file made by history export" };
        var command = new Command("import", "Bring in a journal: into an empty store, or as a second chain beside the store's own") { from };
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            var file = parsed.GetValue(from)!;
            return bench.Write(parsed, store => new ImportHistory(bench.Files, store).Run(file))
                .Match(count => answer.Done(string.Create(CultureInfo.InvariantCulture, $"{count} entries brought in")), problems => answer.Problems(problems));
        });
        return command;
    }

    /// <summary>Verifies every byte.</summary>
    public Command Check()
    {
        var command = new Command("check", "Verify every entry of the journal against its hashes");
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            return bench.Read<StoreCheck>(parsed, store => store.Check()).Match(
                check =>
                {
                    if (answer.Json)
                        answer.Value(writer => Write(writer, check));
                    else
                        answer.Text([string.Create(CultureInfo.InvariantCulture, $"{check.Entries} entries verify; the last is {check.Last}, hash {check.Tip}"), $"newest backup: {check.NewestBackup ?? "none"}"]);
                    return check.Faults.Count == 0 ? ExitCode.Done : answer.Problems([.. check.Faults], ExitCode.Outside);
                },
                problems => answer.Problems(problems));
        });
        return command;
    }

    /// <summary>A verified copy.</summary>
    public Command Backup()
    {
        var to = new Option<string?>("--to") { Description = "A folder, on a stick for example; omitted: beside the journal", HelpName = "DIR" };
        var command = new Command("backup", "Copy the journal and verify the copy") { to };
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            return bench.Write(parsed, store => store.BackUp(parsed.GetValue(to))).Match(
                made => answer.Done(string.Create(CultureInfo.InvariantCulture, $"{made.Entries} entries copied to {made.Folder} and verified")),
                problems => answer.Problems(problems));
        });
        return command;
    }

    private static string Joined(IStoreFolder store)
    {
        var text = new StringBuilder();
        foreach (var line in store.Lines())
            text.Append(Encoding.UTF8.GetString(line.Span)).Append('\n');
        return text.ToString();
    }

    private static void Write(System.Text.Json.Utf8JsonWriter writer, StoreCheck check)
    {
        writer.Document("commission.check/1", () =>
        {
            writer.WriteNumber("entries", check.Entries);
            writer.WriteNumber("last", check.Last);
            writer.WriteString("tip", check.Tip);
            writer.WriteString("newestBackup", check.NewestBackup);
            writer.WriteNumber("faults", check.Faults.Count);
        });
    }
}
