using System.CommandLine;
using Commission.Core.Characteristics;
using Commission.Core.Machines;
using Commission.Core.Plans;
using Commission.Core.Reports;
using Commission.Workshop.Requests;

namespace Commission.App.CommandLine;

/// <summary><c>plan KIND</c>: positions, order, repeats, what they will tell and cost, beside usual practice.</summary>
internal sealed class PlanVerb(Workbench bench) : IVerb
{
    /// <inheritdoc/>
    public Command Declare()
    {
        var plan = new Command("plan", "Where to read, how often and in which order, and what it will tell, before anything is measured");
        foreach (var id in Planner.PlannedKinds)
            plan.Add(Kind(CharacteristicKinds.Find(id)!));
        return plan;
    }

    private Command Kind(CharacteristicKind kind)
    {
        var command = new Command(kind.Id, $"Plan readings for {kind.Title}");
        List<Option<string?>> options = [.. PlanOptionsText.Options.Select(Common.Declared)];
        options.ForEach(command.Add);
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            var typed = options.Select(o => (o.Name, Value: parsed.GetValue(o))).Where(o => o.Value is not null).ToDictionary(o => o.Name[2..], o => o.Value!);
            return bench.PlanFacts(parsed, typed.ContainsKey("travel-mm"))
                .Then(facts => new PlanOptionsText(kind, typed).Read(facts.Machine, bench.Instruments(parsed), facts.Owned)
                    .Then(question => Planner.For(question).Then<(PlanAnswer Plan, LengthUnit Units)>(found => (found, Units(parsed, question.Machine)))))
                .Match(found => Show(answer, found.Plan, found.Units), problems => answer.Problems(problems));
        });
        return command;
    }

    private static int Show(Answer answer, PlanAnswer plan, LengthUnit units)
    {
        if (answer.Json)
            answer.Value(writer => PlanJson.Write(writer, plan));
        else
            answer.Text(PlanText.Lines(plan, units));
        return plan.Reachable == false ? ExitCode.Outside : ExitCode.Done;
    }

    private static LengthUnit Units(ParseResult parsed, Machine machine) => parsed.GetValue(Common.Units) is { } named ? MachineWords.Units[named] : machine.Units;
}
