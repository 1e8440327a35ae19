using System.CommandLine;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Core.Upkeep;
using Commission.Workshop.Requests;

namespace Commission.App.CommandLine;

/// <summary><c>fit KIND FILE</c>: one subcommand for each kind, its options from the kind's declaration.</summary>
internal sealed class FitVerb(Workbench bench) : IVerb
{
    /// <inheritdoc/>
    public Command Declare()
    {
        var fit = new Command("fit", "A finding from a file of readings");
        var shared = FitOptionNames.Shared.Select(Common.Declared).ToList();
        foreach (var kind in CharacteristicKinds.All)
            fit.Add(Kind(kind, shared));
        return fit;
    }

    private Command Kind(CharacteristicKind kind, List<Option<string?>> shared)
    {
        var command = new Command(kind.Id, $"Evaluate {kind.Title} from a file with columns {Columns(kind)}");
        var file = new Argument<string>("FILE") { Description = "A table with a header line, separated by comma, semicolon or tab" };
        List<Option<string?>> options = [.. shared, .. kind.Options.Where(o => FitOptionNames.Shared.All(s => s.Name != o.Name)).Select(Common.Declared)];
        var keep = new Option<bool>("--keep") { Description = "Enter the readings and the finding into the store" };
        command.Add(file);
        command.Add(keep);
        options.ForEach(command.Add);
        command.SetAction(parsed =>
        {
            var typed = options.Select(o => (o.Name, Value: parsed.GetValue(o) ?? (parsed.GetResult(o) is { Implicit: false } ? "yes" : null))).Where(o => o.Value is not null).ToDictionary(o => o.Name[2..], o => o.Value!);
            return Run(kind, parsed, parsed.GetValue(file)!, typed, parsed.GetValue(keep));
        });
        return command;
    }

    private int Run(CharacteristicKind kind, ParseResult parsed, string path, Dictionary<string, string> typed, bool keep)
    {
        var answer = bench.Answer(parsed);
        Machine? of = null;
        return Known(parsed, kind, keep)
            .Then(known => new FitOptionsText(kind, typed).Read(of = known.Machine, bench.Instruments(parsed))
                .Then(options => new FitFile(bench.Files, new JudgeReadings(known.Ledger, known.Machine)).Run(kind, path, options))
                .Then(fitted => keep ? Keep(parsed, kind, path, known.Machine!, fitted) : fitted))
            .Match(fitted => Show(answer, fitted, Common.Shown(parsed, of)), problems => answer.Problems(problems));
    }

    // A fit of a file needs no store. Where there is one with machines, the machine meant is asked for as everywhere, but for what belongs to none.
    private Outcome<StoreKnowledge> Known(ParseResult parsed, CharacteristicKind kind, bool keep)
    {
        var named = keep || parsed.GetValue(Common.Machine) is not null;
        if (!named && !(WorkGraph.Find(kind.Id) is { Scope: not WorkScope.Hand } && bench.HasStore(parsed)))
            return new StoreKnowledge(Ledger.Empty, null);
        return bench.Ledger(parsed).Then(ledger => named || ledger.Machines.Values.Any(machine => !machine.Retired)
            ? ChooseMachine.From(ledger, parsed.GetValue(Common.Machine)).Then<StoreKnowledge>(machine => new StoreKnowledge(ledger, machine))
            : new StoreKnowledge(ledger, null));
    }

    private Outcome<FitAnswer> Keep(ParseResult parsed, CharacteristicKind kind, string path, Machine machine, FitAnswer fitted) =>
        bench.Files.Read(path).Then(text => bench.Write(parsed, store => new KeepFit(store).Run(fitted, kind, machine, Sha256.Hex(System.Text.Encoding.UTF8.GetBytes(text)))));

    private sealed record StoreKnowledge(Ledger Ledger, Machine? Machine);

    private static int Show(Answer answer, FitAnswer fitted, ShownUnits units)
    {
        if (answer.Json)
            answer.Value(writer => FindingJson.Write(writer, fitted.Finding));
        else
            answer.Text(FindingText.Lines(fitted.Finding, fitted.Options.Coverage, units));
        return ExitCode.Of([fitted.Finding.Verdict]);
    }

    private static string Columns(CharacteristicKind kind) =>
        kind.Columns.IsEmpty ? "of any names" : string.Join(", ", kind.Columns.Select(c => c.Required ? c.Name : $"[{c.Name}]"));
}
