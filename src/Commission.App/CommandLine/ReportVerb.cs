using System.CommandLine;
using System.Globalization;
using Commission.App.Attended;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Workshop.Ports;
using Commission.Workshop.Requests;

namespace Commission.App.CommandLine;

/// <summary><c>report</c>: the state of a machine as a document.</summary>
internal sealed class ReportVerb(Workbench bench, ProcedureLibrary library) : IVerb
{
    /// <inheritdoc/>
    public Command Declare()
    {
        var to = new Option<string?>("--out") { Description = "The file; its ending tells the form: .html, .md or .csv", HelpName = "FILE" };
        var asOf = new Option<string?>("--as-of") { Description = "The instant that ages and states hold for; omitted: the last entry", HelpName = "DATE" };
        var names = new Option<bool>("--names") { Description = "Names in place of handles, from the file names.txt beside the journal" };
        var against = new Option<string?>("--against") { Description = "A second instant: the two are compared", HelpName = "DATE" };
        var session = new Option<string?>("--session") { Description = "One run, by the number of the entry that began it", HelpName = "NUMBER" };
        var card = new Option<bool>("--card") { Description = "One page for the wall beside the machine" };
        var chain = Common.Chain();
        var command = new Command("report", "The state of a machine as a document that needs nothing else") { to, asOf, against, session, card, names, chain };
        command.SetAction(parsed => Session(parsed.GetValue(session)).Match(
            run => Run(parsed, parsed.GetValue(chain), parsed.GetValue(to), parsed.GetValue(names), new ReportRequest
            {
                Machine = parsed.GetValue(Common.Machine),
                AsOf = parsed.GetValue(asOf),
                Against = parsed.GetValue(against),
                Session = run < 0 ? null : run,
                Card = parsed.GetValue(card),
                Units = parsed.GetValue(Common.Units) is { } named ? ShownUnits.Named(named) : null,
            }),
            problems => bench.Answer(parsed).Problems(problems)));
        return command;
    }

    private int Run(ParseResult parsed, string? chain, string? file, bool names, ReportRequest request)
    {
        var answer = bench.Answer(parsed);
        if (ReportFile.Form(file) is not { } form)
            return answer.Problem($"the ending of \"{file}\" names no form of report", "Choose .html, .md or .csv");
        return bench.Read(parsed, store => Names(store, names)
                .Then(person => ChooseChain.From(store, chain, request.Machine)
                    .Then(journal => new WriteReport(journal, ProgramVersion.Number, library.Shipped).Run(request with { Person = person })))
                .Then(report => Remembered(store, report)))
            .Match(report => Deliver(answer, form(report), file, asks: parsed.GetValue(Common.Plain) && !parsed.GetValue(Common.Yes)), problems => answer.Problems(problems));
    }

    private static Outcome<long> Session(string? typed) => typed is null ? -1L
        : long.TryParse(typed, NumberStyles.None, CultureInfo.InvariantCulture, out var run) ? run
        : new Problem($"\"{Words.Clean(typed)}\" is not the number of an entry", "See history list");

    // The names stand in a file of their own, so that one can be taken away again; without the file handles stay handles.
    private Outcome<Func<string, string>> Names(IStoreFolder store, bool wanted)
    {
        var file = Path.Combine(store.Folder, "names.txt");
        return !wanted
            ? new Outcome<Func<string, string>>.Good(handle => handle)
            : bench.Files.Read(file).Then(text => NamesFile.Read(text, file))
                .Then<Func<string, string>>(names => new Outcome<Func<string, string>>.Good(handle => names.GetValueOrDefault(handle, handle)));
    }

    private static Outcome<Report> Remembered(IStoreFolder store, Report report)
    {
        store.RememberReport();
        return report;
    }

    // Question by question a file is not lost unseen; a script names the file it means.
    private int Deliver(Answer answer, string text, string? file, bool asks)
    {
        if (file is null)
        {
            bench.Here.Out.Write(text);
            return ExitCode.Done;
        }

        var replaces = bench.Files.IsThere(file);
        if (replaces && asks && !new Asking(bench.Here.In, answer.Json ? bench.Here.Error : bench.Here.Out).Confirm("replace", $"{file} is there already. yes or S replaces it, no leaves it."))
            return answer.Problem($"nothing is written: {file} is there already", "Name another file with --out");
        return bench.Files.Write(file, text).Match(path => answer.Done($"report written to {path}{(replaces ? ", in place of the file that was there" : "")}"), problems => answer.Problems(problems));
    }
}
