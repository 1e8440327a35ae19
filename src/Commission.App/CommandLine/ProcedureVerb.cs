using System.CommandLine;
using System.Globalization;
using Commission.App.Screens;
using Commission.Core;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Workshop.Requests;

namespace Commission.App.CommandLine;

/// <summary><c>procedure list|show|check|run</c>.</summary>
internal sealed class ProcedureVerb(Workbench bench, ProcedureLibrary library, ScreenVerbs screens) : IVerb
{
    /// <inheritdoc/>
    public Command Declare() => new("procedure", "What a person does, step by step")
    {
        List(),
        Show(),
        Check(),
        new RunVerb(bench, library, screens).Declare(),
    };

    private static string Row(ProcedureLibrary.Entry entry) =>
        string.Create(CultureInfo.InvariantCulture, $"{entry.Procedure.Id,-20} {entry.Procedure.Minutes,4:0} min  {entry.Procedure.Title}{(entry.Text.Own ? " (your own)" : "")}");

    private Command List()
    {
        var command = new Command("list", "All procedures with their minutes");
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            var all = library.All();
            if (answer.Json)
                answer.Value(writer => ProcedureJson.Write(writer, all.Entries.Select(e => (e.Procedure, e.Text.Own))));
            else
                answer.Text([.. all.Entries.Select(Row), $"Your own go into {StorePlace.Procedures(bench.Here.DefaultStore)}, one file each."]);
            bench.Tell(parsed, all.Problems);
            return ExitCode.Done;
        });
        return command;
    }

    private Command Show()
    {
        var id = Common.Offering(new Argument<string>("ID") { Description = "Id, as procedure list shows it" }, () => OrderOfWork.Ids);
        var sheet = new SheetOptions();
        var handbook = new Option<bool>("--handbook") { Description = "The handbook's page about it; a kind of fit may be named too" };
        var command = new Command("show", "A procedure as a document, or as a sheet to print") { id, handbook };
        sheet.AddTo(command);
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            if (sheet.Wanted(parsed))
                return Sheet(parsed, parsed.GetValue(id)!, sheet);
            if (parsed.GetValue(handbook))
                return Page(answer, parsed.GetValue(id)!);
            return library.Find(parsed.GetValue(id)!).Then(found => sheet.Axis(parsed).Then<(ProcedureLibrary.Entry Found, AxisName? Axis)>(axis => (found, axis.Value))).Match(
                shown =>
                {
                    if (answer.Json)
                        answer.Value(writer => ProcedureJson.Write(writer, [(shown.Found.Procedure, shown.Found.Text.Own)]));
                    else
                        answer.Text(DocumentText.Lines(shown.Found.Procedure, shown.Axis));
                    return ExitCode.Done;
                },
                problems => answer.Problems(problems));
        });
        return command;
    }

    private static int Page(Answer answer, string id)
    {
        if (HandbookPages.NameOf(id) is not { } page)
            return answer.Problem($"the handbook has no page about \"{Words.Clean(id)}\"", "See procedure list for the names, or open the page README of the handbook");
        if (answer.Json)
        {
            answer.Value(writer =>
            {
                writer.Document("commission.page/1", () =>
                {
                    writer.WriteString("page", page);
                    writer.WriteString("text", HandbookPages.Text(page));
                });
            });
        }
        else
        {
            answer.Text(HandbookPages.Lines(page));
        }

        return ExitCode.Done;
    }

    private int Sheet(ParseResult parsed, string id, SheetOptions sheet)
    {
        var answer = bench.Answer(parsed);
        return library.Find(id)
            .Then(entry => sheet.Lines(bench, parsed, entry.Procedure))
            .Match(
                lines =>
                {
                    if (answer.Json)
                        answer.Value(writer => WriteSheet(writer, id, lines));
                    else
                        answer.Text(lines.Select(Words.Clean));
                    return ExitCode.Done;
                },
                problems => answer.Problems(problems));
    }

    private static void WriteSheet(System.Text.Json.Utf8JsonWriter writer, string id, IEnumerable<string> lines)
    {
        writer.Document("commission.sheet/1", () =>
        {
            writer.WriteString("procedure", id);
            writer.Texts("lines", lines);
        });
    }

    private Command Check()
    {
        var paths = new Argument<string[]>("FILE") { Description = "Files of procedures", Arity = ArgumentArity.OneOrMore };
        var command = new Command("check", "Print every problem of procedure files") { paths };
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            return library.Check(parsed.GetValue(paths)!).Match(
                count => answer.Done(string.Create(CultureInfo.InvariantCulture, $"{count} files checked, no problem found")),
                problems => answer.Problems(problems));
        });
        return command;
    }
}
