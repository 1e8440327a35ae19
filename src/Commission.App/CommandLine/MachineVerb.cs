using System.CommandLine;
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
        Describe("new", "Enter a machine from a file, from short options, or question by question", (request, machine) => request.Add(machine)),
        List(),
        Show(),
        Describe("edit", "Describe a machine anew", (request, machine) => request.Change(machine)),
        Retire(),
    };

    private Command Describe(string word, string meaning, Func<DescribeMachine, Machine, Outcome<Machine>> enter)
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
            return Read(parsed.GetValue(name)!, parsed.GetValue(file), typed, Common.Shown(parsed, null) == ShownUnits.Inches ? LengthUnit.Inch : LengthUnit.Millimetre)
                .Then(machine => bench.Write(parsed, journal => enter(new DescribeMachine(journal), machine)))
                .Match(machine => Tell(answer, machine), problems => answer.Problems(problems));
        });
        return command;
    }

    // A file says itself in which unit its owner works.
    private Outcome<Machine> Read(string name, string? file, Dictionary<string, string> typed, LengthUnit units)
    {
        if (file is not null)
            return bench.Files.Read(file).Then(text => MachineReader.Read(file, text)).Then<Machine>(machine => machine with { Name = name });
        return new MachineOptionsText(typed.Count > 0 ? typed : MachineQuestions.Ask(bench.Here, units), units, asked: typed.Count == 0).Read(name);
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

    private static int Tell(Answer answer, Machine machine)
    {
        if (answer.Json)
            answer.Value(writer => MachineText.Json(writer, machine));
        else
            answer.Text(MachineText.Lines(machine));
        return ExitCode.Done;
    }
}
