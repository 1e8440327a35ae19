using System.CommandLine;
using Commission.App.Plain;
using Commission.Core;
using Commission.Core.Machines;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Workshop.Requests;

namespace Commission.App.CommandLine;

/// <summary><c>machine new|list|show|edit|retire</c>.</summary>
internal sealed class MachineVerb(Workbench bench) : IVerb
{
    private static readonly (string Name, string Meaning, string[] Words)[] Short =
    [
        ("travel-mm", "Travel of X, Y and Z, mm: 420,580,90", []),
        ("steps-per-mm", "The ratio in the controller now: 320, or 320,320,400", []),
        ("steps-per-inch", "The same where the controller counts steps for one inch", []),
        ("lead-mm", "Lead of the screws, mm: 5, or 5,5,4", []),
        ("screw-grade", "Grade of the screws: 0 1 3 5 7 9 10", ["0", "1", "3", "5", "7", "9", "10"]),
        ("switches", "none, home or both-ends", ["none", "home", "both-ends"]),
        ("class", "Class of work: wood, plastics or aluminium", ["wood", "plastics", "aluminium"]),
    ];

    /// <inheritdoc/>
    public Command Declare() => new("machine", "The machines of the store")
    {
        Describe("new", "Enter a machine from a file, from short options, or question by question", (_, name, units) => new MachineQuestions(bench.Here, units).New(name), (request, machine) => request.Add(machine)),
        List(),
        Show(),
        Describe("edit", "Describe a machine anew, or correct it fact by fact", Corrected, (request, machine) => request.Change(machine)),
        Retire(),
    };

    private Command Describe(string word, string meaning, Func<ParseResult, string, LengthUnit, Outcome<Machine>?> ask, Func<DescribeMachine, Machine, Outcome<Machine>> enter)
    {
        var name = new Argument<string>("NAME") { Description = "The machine's name" };
        var file = new Option<string?>("--file") { Description = "A description, as in the guide to machine files", HelpName = "M.yaml" };
        var options = Short.Select(o => Common.Offering(new Option<string?>("--" + o.Name) { Description = o.Meaning }, () => o.Words)).ToList();
        var command = new Command(word, meaning) { name, file };
        options.ForEach(command.Add);
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            var typed = options.Where(o => parsed.GetValue(o) is not null).ToDictionary(o => o.Name[2..], o => parsed.GetValue(o)!);
            var units = Common.Shown(parsed, null) == ShownUnits.Inches ? LengthUnit.Inch : LengthUnit.Millimetre;
            var described = parsed.GetValue(file) is null && typed.Count == 0 ? ask(parsed, parsed.GetValue(name)!, units) : Read(parsed.GetValue(name)!, parsed.GetValue(file), typed, units);
            if (described is not { } told)
                return answer.Done("Put aside: nothing was entered.");
            return told.Then(machine => bench.Write(parsed, journal => enter(new DescribeMachine(journal), machine)))
                .Match(
                    machine =>
                    {
                        Remark(answer, typed, machine);
                        return Tell(answer, machine);
                    },
                    problems => answer.Problems(problems));
        });
        return command;
    }

    // A file says itself in which unit its owner works.
    private Outcome<Machine> Read(string name, string? file, Dictionary<string, string> typed, LengthUnit units) => file is not null
        ? bench.Files.Read(file).Then(text => MachineReader.Read(file, text)).Then<Machine>(machine => machine with { Name = name })
        : new MachineOptionsText(typed, units).Read(name);

    private Outcome<Machine>? Corrected(ParseResult parsed, string name, LengthUnit units)
    {
        var known = bench.Ledger(parsed).Then(ledger => ChooseMachine.From(ledger, name));
        if (known is not Outcome<Machine>.Good { Value: var machine })
            return known;
        var after = new MachineCorrections(bench.Here, parsed.GetValue(Common.Units) is null ? machine.Units : units).Corrected(machine);
        return after is null ? null : (Outcome<Machine>)after;
    }

    // Options are not asked about; what can hardly be is said.
    private void Remark(Answer answer, Dictionary<string, string> typed, Machine machine)
    {
        var remarks = typed.Count == 0 ? [] : FactClash.Among(machine).Append(FactClash.OddTravel(machine)).OfType<FactClash>().Select(clash => machine.Units.Shown().Told(clash.Reason))
            .Concat(typed.Where(one => MachineQuestions.WrittenByPower(one.Value) is not null).Select(one => $"{one.Key} {Words.Clean(one.Value)} is not written as a length is read; it stands as shown here"));
        foreach (var remark in remarks)
            (answer.Json ? bench.Here.Error : bench.Here.Out).WriteLine($"Remark: {remark}.");
    }

    private Command List()
    {
        var command = new Command("list", "All machines of the store");
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            return bench.Ledger(parsed).Match(
                ledger =>
                {
                    if (answer.Json)
                        answer.Value(writer => MachineText.Json(writer, ledger.Machines.Values));
                    else
                        answer.Text(ledger.Machines.Values.Select(MachineText.Line));
                    return ExitCode.Done;
                },
                problems => answer.Problems(problems));
        });
        return command;
    }

    private Command Show()
    {
        var name = new Argument<string?>("NAME") { Description = "The machine's name; omitted: the only one", Arity = ArgumentArity.ZeroOrOne };
        var command = new Command("show", "All that is known of a machine") { name };
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            return bench.Ledger(parsed)
                .Then(ledger => ChooseMachine.From(ledger, parsed.GetValue(name) ?? parsed.GetValue(Common.Machine)))
                .Match(machine => Tell(answer, machine), problems => answer.Problems(problems));
        });
        return command;
    }

    private Command Retire()
    {
        var name = new Argument<string>("NAME") { Description = "The machine's name" };
        var command = new Command("retire", "Take a machine out of use; its history stays") { name };
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            return bench.Write(parsed, journal => new DescribeMachine(journal).Retire(parsed.GetValue(name)))
                .Match(machine => answer.Done($"machine {machine.Name} is out of use; its history stays"), problems => answer.Problems(problems));
        });
        return command;
    }

    // Read aloud a description is sentences; as a file it is what it is read from.
    private int Tell(Answer answer, Machine machine)
    {
        if (answer.Json)
            answer.Value(writer => MachineText.Json(writer, machine));
        else if (bench.Here.IsAnswered)
            answer.Text([$"Machine {Words.Clean(machine.Name)}.", .. MachineCorrections.Sentences(machine, machine.Units)]);
        else
            answer.Text(MachineText.Lines(machine));
        return ExitCode.Done;
    }
}
