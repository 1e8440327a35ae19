using System.Globalization;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Core.Reports;
using Commission.Practice.Bench;
using Commission.Workshop.Sessions;

namespace Commission.App.Rehearsal;

/// <summary>Answers what a run needs by the simulated operator, and prints each step, reading and finding.</summary>
internal sealed class WalkFront(PracticeBench bench, TextWriter output)
{
    // More answers than any shipped procedure asks for: a run that goes on beyond it has a fault.
    private const int MostAnswers = 20_000;

    private readonly List<WalkResult> _results = [];

    /// <summary>What was found so far, beside the truth.</summary>
    public IReadOnlyList<WalkResult> Results => _results;

    /// <summary>Carries a session to its end.</summary>
    /// <returns>How it ended, or what stood in its way.</returns>
    public Outcome<string> Carry(ProcedureSession session)
    {
        var run = session.Run;
        var person = new SimulatedPerson(bench, run.Procedure);
        foreach (var kind in run.Procedure.AllSteps.OfType<Step.Evaluate>().Select(step => step.Kind).Distinct())
            bench.Begin(kind);
        for (var answers = 0; answers < MostAnswers; answers++)
        {
            if (session.Needs is Need.Ended ended)
                return ended.Reason is { } reason ? $"{ended.How}: {reason}" : ended.How;
            if (Answer(session, person) is { } problems)
                return problems;
        }

        return new Problem($"'{run.Procedure.Id}' asks without end", "Check its steps with 'procedure show'");
    }

    private Outcome<string>? Answer(ProcedureSession session, SimulatedPerson person)
    {
        var need = session.Needs;
        switch (need)
        {
            case Need.HazardsFirst hazards:
                foreach (var hazard in hazards.Hazards)
                    Say($"hazard: {OneLine(hazard.What)} {OneLine(hazard.Do)}");
                return Bad(session.HazardsRead());
            case Need.TakeReading reading:
                return Read(session, person, reading);
            case Need.Evaluate evaluate:
                return Evaluate(session, evaluate);
            case Need.Choose choose:
                var word = person.Choice(choose, session.Run);
                Say($"{choose.Step}: {OneLine(choose.Text)} {word}");
                return Bad(session.Choose(word));
            case Need.Number number:
                var typed = SimulatedPerson.Number(session.Run);
                Say($"{number.Step}: {OneLine(number.Text)} {typed} {number.Unit}".TrimEnd());
                return Bad(session.Number(typed, double.Parse(typed, CultureInfo.InvariantCulture)));
            case Need.Line line:
                Say($"{line.Step}: {OneLine(line.Question)} practice");
                return Bad(session.Text("practice"));
            case Need.SlipQuestion question:
                Say($"{question.Step}: {OneLine(question.Reason)}, read again");
                return Bad(session.AnswerSlip(SlipAnswer.ReadAgain));
            case Need.Change change:
                return Change(session, person, change);
            case Need.CheckOut check:
                Say($"{check.Step}: out, found {check.Found}, limit {check.Check.Limit}");
                return Bad(session.Leave("put-aside", $"check {check.Check.Id} is out: {check.Found}"));
            default:
                Say($"{need.Step}: {OneLine(TextOf(need))}");
                return Bad(session.Confirm());
        }
    }

    private Outcome<string>? Read(ProcedureSession session, SimulatedPerson person, Need.TakeReading need)
    {
        var typed = person.Reading(need, session.Run);
        var recorded = session.Read(typed, double.Parse(typed, CultureInfo.InvariantCulture));
        if (recorded is Outcome<TakenReading>.Bad bad)
            return new Outcome<string>.Bad(bad.Problems);
        Say(string.Create(CultureInfo.InvariantCulture, $"{need.Step}: reading {need.Index + 1} of {need.Of}, {need.Cell.Place}: {typed} {need.Unit}"));
        return null;
    }

    private Outcome<string>? Evaluate(ProcedureSession session, Need.Evaluate need)
    {
        switch (session.Evaluate())
        {
            case Outcome<Finding>.Bad bad:
                foreach (var problem in bad.Problems)
                    Say($"{need.Step}: no finding: {problem}");
                return session.StoreFailed ? new Outcome<string>.Bad(bad.Problems) : null;
            case Outcome<Finding>.Good(var finding):
                foreach (var line in FindingText.Lines(finding, need.Options.Coverage))
                    Say(line);
                Compare(need.Options.Axis, finding);
                return null;
            default:
                throw new System.Diagnostics.UnreachableException();
        }
    }

    // Truth is taken at once: a change made afterwards makes another machine of it.
    private void Compare(AxisName? axis, Finding finding)
    {
        foreach (var parameter in finding.Parameters)
        {
            if (parameter.Value is { } found && bench.TrueValue(finding.Kind, axis, parameter.Name) is { } truth)
                _results.Add(new WalkResult(finding.Kind, axis?.ToString(), parameter.Name, parameter.Unit, truth, found, parameter.ExpandedUncertainty));
        }
    }

    private Outcome<string>? Change(ProcedureSession session, SimulatedPerson person, Need.Change need)
    {
        var after = person.Apply(need, session.Run.Setting.Axis);
        Say(after is { } value
            ? string.Create(CultureInfo.InvariantCulture, $"{need.Step}: set to {value:0.######}")
            : $"{need.Step}: left as it is");
        return Bad(after is null ? session.LeaveChange() : session.TellChange(after));
    }

    private static Outcome<string>? Bad(Outcome<ProcedureRun> outcome) =>
        outcome is Outcome<ProcedureRun>.Bad bad ? new Outcome<string>.Bad(bad.Problems) : null;

    private static string TextOf(Need need) => need switch
    {
        Need.Instruct step => step.Text,
        Need.Confirm step => step.Text,
        Need.Power step => step.Text,
        Need.Wait step => step.Text,
        Need.Motion step => step.Text + " " + string.Join("; ", step.Moves.Select(move => move.Words)),
        _ => "",
    };

    private void Say(string line) => output.WriteLine(line);

    private static string OneLine(string text) => text.ReplaceLineEndings(" ").Trim();
}
