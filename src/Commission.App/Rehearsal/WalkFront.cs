using System.Globalization;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Core.Reports;
using Commission.Core.Upkeep;
using Commission.Practice.Bench;
using Commission.Workshop.Sessions;

namespace Commission.App.Rehearsal;

/// <summary>Answers what a run needs by the simulated operator, and prints each step, reading and finding.</summary>
internal sealed class WalkFront(PracticeBench bench, TextWriter output)
{
    // More answers than any shipped procedure asks for: a run that goes on beyond it has a fault.
    private const int MostAnswers = 20_000;

    // Several times what a hand scatters with a caliper, mm.
    private const double SameMm = 0.1;

    private readonly List<WalkResult> _results = [];
    private readonly Notebook _notebook = new();

    /// <summary>What was found so far, beside the truth.</summary>
    public IReadOnlyList<WalkResult> Results => _results;

    /// <summary>Carries a session to its end.</summary>
    /// <returns>How it ended, or what stood in its way.</returns>
    public Outcome<string> Carry(ProcedureSession session)
    {
        var run = session.Run;
        var person = new SimulatedPerson(bench, _notebook);
        foreach (var test in BenchTests.Of(run.Procedure))
            bench.Begin(test);
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
                return Number(session, person, number);
            case Need.Line line:
                var answer = SimulatedPerson.Line(session.Run);
                Say($"{line.Step}: {OneLine(line.Question)} {answer}");
                return Bad(session.Text(answer));
            case Need.SlipQuestion question:
                var kept = session.Run.ReadsTheSame(question.Reading, SameMm);
                Say($"{question.Step}: {OneLine(question.Reason)}, {(kept ? "reads the same again: kept" : "read again")}");
                return Bad(session.AnswerSlip(kept ? SlipAnswer.Keep : SlipAnswer.ReadAgain));
            case Need.Change change:
                return Change(session, person, change);
            case Need.CheckOut check:
                Say($"{check.Step}: out, found {check.Found}, limit {check.Check.Limit}");
                if (person.Mend(session.Run))
                    return Bad(session.RepeatCheck());
                return Bad(session.Leave("put-aside", $"check {check.Check.Id} is out: {check.Found}"));
            default:
                Say($"{need.Step}: {OneLine(TextOf(need))}");
                person.Do(session.Run);
                return Bad(session.Confirm());
        }
    }

    private Outcome<string>? Read(ProcedureSession session, SimulatedPerson person, Need.TakeReading need)
    {
        var read = person.Reading(need, session.Run);
        if (read is not Outcome<string>.Good { Value: var typed })
            return read;
        var recorded = session.Read(typed, double.Parse(typed, CultureInfo.InvariantCulture));
        if (recorded is Outcome<TakenReading>.Bad bad)
            return new Outcome<string>.Bad(bad.Problems);
        Say(string.Create(CultureInfo.InvariantCulture, $"{need.Step}: reading {need.Index + 1} of {need.Of}, {need.Cell.Place}: {typed} {need.Unit}"));
        return null;
    }

    private Outcome<string>? Number(ProcedureSession session, SimulatedPerson person, Need.Number need)
    {
        var answer = person.Number(session.Run);
        if (answer is not Outcome<string>.Good { Value: var typed })
            return answer;
        Say($"{need.Step}: {OneLine(need.Text)} {typed} {(need.Unit == "1" ? "" : need.Unit)}".TrimEnd());
        return Bad(session.Number(typed, double.Parse(typed, CultureInfo.InvariantCulture)));
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
                Compare(need.Options.Axis, need.Place, finding);
                return null;
            default:
                throw new System.Diagnostics.UnreachableException();
        }
    }

    // Truth is taken at once: a change made afterwards makes another machine of it.
    private void Compare(AxisName? axis, string? place, Finding finding)
    {
        var test = BenchTests.Of(finding.Kind, place);
        var plane = test == finding.Kind ? null : place;
        foreach (var parameter in finding.Parameters)
        {
            if (parameter.Value is not { } found)
                continue;
            if (plane is null)
                _notebook.Write(finding.Kind, parameter.Name, found, parameter.ExpandedUncertainty);
            if (bench.TrueValue(test, axis, parameter.Name) is { } truth)
                _results.Add(new WalkResult(finding.Kind, axis?.ToString() ?? plane, parameter.Name, parameter.Unit, truth, found, parameter.ExpandedUncertainty));
        }
    }

    private Outcome<string>? Change(ProcedureSession session, SimulatedPerson person, Need.Change need)
    {
        var of = (session.Run.Current?.Step as Step.Change)?.Of;
        var place = session.Run.Procedure.AllSteps.OfType<Step.Evaluate>().FirstOrDefault(evaluate => evaluate.Name == of)?.Place;
        var (done, after) = person.Apply(need, session.Run, place);
        Say((done, after) switch
        {
            (true, { } value) => string.Create(CultureInfo.InvariantCulture, $"{need.Step}: set to {value:0.######}"),
            (true, null) => $"{need.Step}: done as advised",
            _ => $"{need.Step}: left as it is",
        });
        if (done && need.Proposed is null)
            Say(StaleTable.Sentence(need.EnteredAs));
        return Bad(done ? session.TellChange(after) : session.LeaveChange());
    }

    private static Outcome<string>? Bad(Outcome<ProcedureRun> outcome) =>
        outcome is Outcome<ProcedureRun>.Bad bad ? new Outcome<string>.Bad(bad.Problems) : null;

    private static string TextOf(Need need) => need switch
    {
        Need.Instruct step => step.Text,
        Need.Confirm step => step.Text,
        Need.Power step => step.Text,
        Need.Wait step => step.Text,
        Need.Motion step => step.Text + " " + step.InWords(),
        _ => "",
    };

    private void Say(string line) => output.WriteLine(line);

    private static string OneLine(string text) => text.ReplaceLineEndings(" ").Trim();
}
