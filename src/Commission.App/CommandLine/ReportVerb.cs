using System.CommandLine;
using Commission.Core;
using Commission.Core.Reports;
using Commission.Workshop.Requests;

namespace Commission.App.CommandLine;

/// <summary><c>report</c>: the state of a machine as a document.</summary>
internal sealed class ReportVerb(Workbench bench) : IVerb
{
    /// <inheritdoc/>
    public Command Declare()
    {
        var to = new Option<string?>("--out") { Description = "The file; its ending tells the form: .html, .md or .csv", HelpName = "FILE" };
        var asOf = new Option<string?>("--as-of") { Description = "The instant that ages and states hold for; omitted: the last entry", HelpName = "DATE" };
        var command = new Command("report", "The state of a machine as a document that needs nothing else") { to, asOf };
        command.SetAction(parsed => Run(parsed, parsed.GetValue(to), parsed.GetValue(asOf)));
        return command;
    }

    private int Run(ParseResult parsed, string? file, string? asOf)
    {
        var answer = bench.Answer(parsed);
        if (Form(file) is not { } form)
            return answer.Problem($"the ending of \"{file}\" names no form of report", "Choose .html, .md or .csv");
        return bench.Read(parsed, store => new WriteReport(store, ProgramVersion.Number).Run(parsed.GetValue(Common.Machine), asOf))
            .Match(report => Deliver(answer, form(report), file), problems => answer.Problems(problems));
    }

    private int Deliver(Answer answer, string text, string? file)
    {
        if (file is null)
        {
            bench.Here.Out.Write(text);
            return ExitCode.Done;
        }

        return bench.Files.Write(file, text).Match(
            path =>
            {
                answer.Done($"report written to {path}");
                return ExitCode.Done;
            },
            problems => answer.Problems(problems));
    }

    private static Func<Report, string>? Form(string? file) => Path.GetExtension(file ?? ".md").ToUpperInvariant() switch
    {
        ".MD" => MarkdownReport.Write,
        ".CSV" => CsvReport.Write,
        ".HTML" or ".HTM" => HtmlReport.Write,
        _ => null,
    };
}
