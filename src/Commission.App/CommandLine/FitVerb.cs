using System.CommandLine;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Reports;
using Commission.Workshop.Requests;

namespace Commission.App.CommandLine;

/// <summary><c>fit KIND FILE</c>: one subcommand for each kind, its options from the kind's declaration.</summary>
internal sealed class FitVerb(Workbench bench) : IVerb
{
    /// <inheritdoc/>
    public Command Declare()
    {
        var fit = new Command("fit", "A finding from a file of readings");
        var shared = FitOptionNames.Shared.Select(Declared).ToList();
        foreach (var kind in CharacteristicKinds.All)
            fit.Add(Kind(kind, shared));
        return fit;
    }

    private Command Kind(CharacteristicKind kind, List<Option<string?>> shared)
    {
        var command = new Command(kind.Id, $"Evaluate {kind.Title} from a file with columns {Columns(kind)}");
        var file = new Argument<string>("FILE") { Description = "A table with a header line, separated by comma, semicolon or tab" };
        List<Option<string?>> options = [.. shared, .. kind.Options.Where(o => FitOptionNames.Shared.All(s => s.Name != o.Name)).Select(Declared)];
        command.Add(file);
        options.ForEach(command.Add);
        command.SetAction(parsed =>
        {
            var typed = options.Select(o => (o.Name, Value: parsed.GetValue(o) ?? (parsed.GetResult(o) is { Implicit: false } ? "yes" : null))).Where(o => o.Value is not null).ToDictionary(o => o.Name[2..], o => o.Value!);
            return Run(kind, parsed, parsed.GetValue(file)!, typed);
        });
        return command;
    }

    private int Run(CharacteristicKind kind, ParseResult parsed, string path, Dictionary<string, string> typed)
    {
        var answer = bench.Answer(parsed);
        return new FitOptionsText(kind, typed).Read(null, InstrumentCatalogue.Find)
            .Then(options => new FitFile(bench.Files).Run(kind, path, options))
            .Match(fitted => Show(answer, fitted), problems => answer.Problems(problems));
    }

    private static int Show(Answer answer, FitAnswer fitted)
    {
        if (answer.Json)
            answer.Value(writer => FindingJson.Write(writer, fitted.Finding));
        else
            answer.Text(FindingText.Lines(fitted.Finding, fitted.Options.Coverage));
        return ExitCode.Of([fitted.Finding.Verdict]);
    }

    private static string Columns(CharacteristicKind kind) =>
        kind.Columns.IsEmpty ? "of any names" : string.Join(", ", kind.Columns.Select(c => c.Required ? c.Name : $"[{c.Name}]"));

    private static Option<string?> Declared(OptionSpec spec) =>
        new("--" + spec.Name) { Description = spec.Meaning, HelpName = spec.IsNumber ? "NUMBER" : "WORD", Arity = spec.IsFlag ? ArgumentArity.Zero : ArgumentArity.ExactlyOne };
}
