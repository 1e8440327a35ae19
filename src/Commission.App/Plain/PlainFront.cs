using System.Collections.Immutable;
using System.Globalization;
using Commission.App.CommandLine;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.Procedures;
using Commission.Core.Procedures.Aids;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Workshop.Requests;
using Commission.Workshop.Sessions;

namespace Commission.App.Plain;

/// <summary>A procedure as question and answer, one line each: for pipes, screen readers and telephones held over a machine.</summary>
internal sealed partial class PlainFront(TextReader input, TextWriter output, TextWriter error)
{
    private const string Yes = "yes";
    private const int MostLinesShown = 60;

    // Ends the loop from anywhere: the input ended, the store failed, a signal came.
    private int? ended;

    // The last answer was none: the question comes again, and what stands before it need not be said again.
    private bool unclear, again;

    // How a reading is taken, as it was told last.
    private string? toldHow;

    // Counts trips from the first step that asks for them on.
    private TripCounter? counter;

    // A signal came: then nothing more is said about the input.
    private CancellationToken stopping;

    /// <summary>Why moves are refused over the link (nobody is known to watch); null where they may be made.</summary>
    public string? WhyNoMotion { get; init; }

    /// <summary>Throws away what was typed before a motion prompt and tells how many lines that were; null where nothing moves over a link.</summary>
    public Func<int>? ThrowAwayTyped { get; init; }

    /// <summary>Who measures, as a sentence, where that was taken from the log; null where it was told or nobody is known.</summary>
    public string? MeasuredBy { get; init; }

    /// <summary>What it is measured with, as a sentence, where that was taken from the kit; null where it was told or there is none.</summary>
    public string? MeasuredWith { get; init; }

    /// <summary>Unit in which lengths are typed: <c>mm</c> or <c>in</c>.</summary>
    public string LengthUnit { get; init; } = "mm";

    /// <summary>Writes data for the machine to a file, by name and text; null shows them instead.</summary>
    public Func<string, string, Outcome<string>>? Save { get; init; }

    /// <summary>Begins to count trips over the open link; null where none is open.</summary>
    public Func<ProcedureSession, TripCounter>? CountTrips { get; init; }

    /// <summary>Coverage probability for what is shown.</summary>
    public double Coverage { get; init; } = 0.95;

    /// <summary>Carries the session to its end.</summary>
    /// <returns>The exit code.</returns>
    public async Task<int> RunAsync(ProcedureSession session, CancellationToken cancellation)
    {
        stopping = cancellation;
        Head(session);
        using var counts = new Held(this);
        while (ended is null && session.Needs is not Need.Ended)
        {
            if (cancellation.IsCancellationRequested) return ExitCode.Interrupted;
            (again, unclear) = (unclear, false);
            var outcome = await StepAsync(session, session.Needs, cancellation).ConfigureAwait(false);
            if (outcome is Outcome<ProcedureRun>.Bad bad) Tell(bad.Problems);
            if (session.StoreFailed) return ExitCode.Failed;
        }

        if (cancellation.IsCancellationRequested) return ExitCode.Interrupted;
        return ended ?? Foot(session, (Need.Ended)session.Needs);
    }

    private void Head(ProcedureSession session)
    {
        var run = session.Run;
        var axis = run.Procedure.ForOneAxis && run.Setting.Axis is { } name ? $", axis {name}" : "";
        Say($"Procedure {run.Procedure.Title}{axis}, machine {run.Machine.Name}.");
        Say($"Purpose: {OneLine(run.Procedure.Purpose)}");
        Say(string.Create(CultureInfo.InvariantCulture, $"Takes about {run.Procedure.Minutes:0} minutes."));
        if (!run.Setting.Link) Say("No controller is linked: you command each move, this program writes down.");
        if (MeasuredWith is { } instrument) Say(instrument);
        if (MeasuredBy is { } who) Say(who);
        if (run.Assumption is { } assumed) Say(assumed);
        if (session.Resumed)
            Say(string.Create(CultureInfo.InvariantCulture, $"Taken up again: {run.Readings.Length} readings are on disk and were checked."));
        foreach (var need in run.Procedure.Needs)
            Say($"Rests on {need.Procedure} ({(need.Must ? "needed" : "advised")}): {need.Because}");
    }

    private async Task<Outcome<ProcedureRun>> StepAsync(ProcedureSession session, Need need, CancellationToken cancellation) => need switch
    {
        Need.HazardsFirst hazards => Hazards(session, hazards),
        Need.Instruct step => Instructing(session, step),
        Need.Confirm step => Confirming(session, step.Step, "", OneLine(step.Text)),
        Need.Power step => Confirming(session, step.Step, step.Text, step.DrivesOn ? "Drives switched on?" : "Drives switched off?"),
        Need.Wait step => Confirming(session, step.Step, step.Text, step.Seconds is { } seconds ? string.Create(CultureInfo.InvariantCulture, $"Waited {seconds:0} seconds?") : "Waited?"),
        Need.Motion { Linked: false } step => Confirming(session, step.Step, Commanded(step), "Moved there, and at rest?"),
        Need.Motion step => await MotionAsync(session, step, cancellation).ConfigureAwait(false),
        Need.Choose step => Choosing(session, step),
        Need.Number step => Numbering(session, step),
        Need.Line step => Prompt("text", step.Step, OneLine(step.Question)) is { } line ? session.Text(Words.Clean(line)) : session.Run,
        Need.TakeReading when session.WhyNoReading is { } why => await UnreadyAsync(session, need.Step, why, cancellation).ConfigureAwait(false),
        Need.TakeReading step => Reading(session, step),
        Need.SlipQuestion question => Slip(session, question),
        Need.CheckOut check => Out(session, check),
        Need.Evaluate => Evaluated(session),
        Need.Change change => Changing(session, change),
        _ => throw new System.Diagnostics.UnreachableException(),
    };

    private Outcome<ProcedureRun> Hazards(ProcedureSession session, Need.HazardsFirst need)
    {
        for (var i = 0; i < need.Hazards.Length; i++)
        {
            Say(string.Create(CultureInfo.InvariantCulture, $"Hazard {i + 1} of {need.Hazards.Length}. {OneLine(need.Hazards[i].What)}"));
            Say("  " + OneLine(need.Hazards[i].Do));
        }

        return Prompt("confirm", need.Step, "All read and done by you? S for yes, all else ends here.") switch
        {
            null => session.Run,
            var answer when IsYes(answer) || Is(answer, "s") => session.HazardsRead(),
            _ => session.Leave("put-aside", "the hazards were not confirmed"),
        };
    }

    private Outcome<ProcedureRun> Instructing(ProcedureSession session, Need.Instruct step)
    {
        var data = step.Data;
        if (data is Outcome<ImmutableArray<WorkData>>.Bad bad) Tell(bad.Problems);
        if (data is Outcome<ImmutableArray<WorkData>>.Good { Value: var files })
        {
            foreach (var file in files) TellData(file);
        }

        // Read aloud, a drawing is its words.
        return Confirming(session, step.Step, step.Drawing is { } drawing ? $"{step.Text}\n{drawing.Words}" : step.Text, "Done?");
    }

    // Long data are for a file: nobody copies three hundred lines from a screen.
    private void TellData(WorkData file)
    {
        Say($"{file.Name}: {file.About}");
        if (Save is { } save)
        {
            save(file.Name, string.Join('\n', file.Lines) + "\n").Match(path => { Say("Written to " + Words.Clean(path)); return 0; }, problems => { Tell(problems); return 0; });
            return;
        }

        foreach (var line in file.Lines.Take(MostLinesShown)) Say("  " + line);
        if (file.Lines.Length > MostLinesShown) Say(string.Create(CultureInfo.InvariantCulture, $"  and {file.Lines.Length - MostLinesShown} lines more: put the run aside and start it again with --data DIR to have them as a file."));
    }

    private Outcome<ProcedureRun> Confirming(ProcedureSession session, string name, string before, string question)
    {
        SayOnce(before);
        return Prompt("confirm", name, $"{question} yes or S goes on, no puts the run aside.{BackOffered(session)}") switch
        {
            null => session.Run,
            var answer when IsBack(answer) => Back(session),
            var answer when IsYes(answer) || Is(answer, "s") => session.Confirm(),
            var answer when Is(answer, "no") || Is(answer, "q") => session.Leave("put-aside", $"'{name}' was answered with no"),
            var answer => Unclear(session, answer),
        };
    }

    private Outcome<ProcedureRun> Choosing(ProcedureSession session, Need.Choose need)
    {
        TellCheck(need.Check);
        foreach (var option in need.Options.Where(option => option.Meaning != option.Word && need.Options.Length > 2)) Say($"  {option.Word}: {OneLine(option.Meaning)}");
        var words = string.Join(", ", need.Options.Select(option => option.Word));
        var text = $"{OneLine(need.Text)} One of: {words}{(need.Default is { } fallback ? $"; empty for {fallback}" : "")}.{BackOffered(session, need)}";
        if (Prompt("choose", need.Step, text) is not { } answer) return session.Run;
        if (IsBack(answer, need)) return Back(session);
        if (need.Default is { } usual && (answer.Length == 0 || (IsYes(answer) && need.Options.All(option => option.Word != Yes)))) return session.Choose(usual);
        if (need.IsYesOrNo && Is(answer, "s")) return session.Choose(Yes);
        if (SkipReason(answer) is { } reason) return session.Skip(reason);
        // One letter where it can be but one of them.
        var begun = answer.Length == 1 ? need.Options.Where(option => option.Word.StartsWith(answer, StringComparison.OrdinalIgnoreCase)).ToArray() : [];
        var chosen = need.Options.FirstOrDefault(option => Is(answer, option.Word)) ?? (begun.Length == 1 ? begun[0] : null);
        return chosen is null ? Unclear(session, answer) : Kept(session, need, chosen.Word) ? session.Choose(chosen.Word) : session.Run;
    }

    private Outcome<ProcedureRun> Numbering(ProcedureSession session, Need.Number need)
    {
        TellCheck(need.Check);
        if (need.Counted is not null) counter ??= CountTrips?.Invoke(session);
        var offered = need.Counted is { } asked ? counter?.For(asked) : null;
        var counting = offered is { } begun ? $" {begun.Words}; empty takes what it counted." : "";
        if (Prompt("number", need.Step, OneLine(need.Text) + UnitAsked(need) + counting + BackOffered(session)) is not { } answer) return session.Run;
        if (IsBack(answer)) return Back(session);
        if (answer.Length == 0 && need.Counted is { } what && offered is { } counted)
        {
            var (value, words) = counted.Take(what);
            Say(words);
            return session.Number(words, value);
        }

        if (SkipReason(answer) is { } reason) return session.Skip(reason);
        if (Is(answer, "q"))
        {
            // Before the run is left: what was counted is still its own.
            counter?.Dispose();
            return session.Leave("put-aside", "put aside by the operator");
        }

        if (Understood(answer, need.Unit, need.TypedIn) is not { } number) return session.Run;
        if (Kept(session, need, answer, number) is not { } kept) return session.Run;
        if (need.Counted is { } typed) offered?.Typed(typed);
        return session.Number(answer, kept);
    }

    private Outcome<ProcedureRun> Reading(ProcedureSession session, Need.TakeReading need)
    {
        var again = need.Again ? ", again" : "";
        var where = need.Moves.IsEmpty ? "" : " " + WhereTo(need);
        var text = string.Create(CultureInfo.InvariantCulture, $"Reading {need.Index + 1} of {need.Of}{again}, {need.Cell.Place}.{where} {HowToRead(need)}");
        if (Prompt("number", string.Create(CultureInfo.InvariantCulture, $"{need.Step}/{need.Index + 1}"), text) is not { } answer) return session.Run;
        if (Is(answer, "q")) return session.Leave("put-aside", "put aside by the operator");
        if (Is(answer, "r")) return session.LastReading is { } last ? session.ReadAgain(last.Sequence) : new Problem("there is no reading yet", "Type the reading that is asked for");
        if (IsBack(answer)) return Back(session);
        if (answer.StartsWith("x ", StringComparison.OrdinalIgnoreCase))
            return session.LastReading is { } latest ? session.LeaveOut(latest.Sequence, Words.Clean(answer[2..])) : new Problem("there is no reading yet", "Type the reading that is asked for");
        return Taken(session, need, answer);
    }

    // The same words for each of many readings would hide the place, which is all that changes: said at the first, and where an answer was none.
    private string HowToRead(Need.TakeReading need)
    {
        var text = OneLine(need.Text);
        var unit = text.Contains($" in {Spoken(UnitTyped(need.Unit))}", StringComparison.Ordinal) ? "" : $" In {Spoken(UnitTyped(need.Unit))};";
        var how = string.Create(CultureInfo.InvariantCulture, $"{text}{unit} R reads the last one again, X and a reason leaves it out, Q puts the run aside.");
        var known = how == toldHow && !again;
        toldHow = how;
        return known ? string.Create(CultureInfo.InvariantCulture, $"In {Spoken(UnitTyped(need.Unit))}; R, X and Q as before.") : how;
    }

    // "8.49 at 204.195" also tells the position really commanded.
    private Outcome<ProcedureRun> Taken(ProcedureSession session, Need.TakeReading need, string answer)
    {
        var parts = answer.Split(" at ", 2, StringSplitOptions.TrimEntries);
        if (Understood(parts[0], need.Unit) is not { } value) return session.Run;
        double? commanded = null;
        if (parts.Length == 2 && (commanded = Understood(parts[1], "mm")) is null) return session.Run;
        return session.Read(answer, value, commanded).Then<ProcedureRun>(reading =>
        {
            Say(string.Create(CultureInfo.InvariantCulture, $"recorded {reading.Recorded}"));
            Say(string.Create(CultureInfo.InvariantCulture, $"reading {need.Index + 1} of {need.Of} is {Value(session, reading)}."));
            return session.Run;
        });
    }

    private Outcome<ProcedureRun> Slip(ProcedureSession session, Need.SlipQuestion question)
    {
        var offered = question.OtherZero ? " Another zero since the break? A gives it and what follows a zero of its own." : question.Suggestion is { } value ? string.Create(CultureInfo.InvariantCulture, $" A takes {session.Run.AsTyped(value)} {LengthUnit}.") : "";
        // Who read again and types the same is not asked without end.
        var same = session.Run.ReadsTheSame(question.Reading, 0);
        var text = $"{OneLine(question.Reason)}. A slip? R reads it again.{offered} O keeps it, marked in the report. Empty for {(same ? "O" : "R")}.";
        return Prompt("choose", question.Step, text) switch
        {
            null => session.Run,
            var answer when answer.Length == 0 || IsYes(answer) => session.AnswerSlip(same ? SlipAnswer.Keep : SlipAnswer.ReadAgain),
            var answer when Is(answer, "r") => session.AnswerSlip(SlipAnswer.ReadAgain),
            var answer when Is(answer, "a") && question.OtherZero => session.AnswerSlip(SlipAnswer.OwnZero),
            var answer when Is(answer, "a") && question.Suggestion is not null => Corrected(session),
            var answer when Is(answer, "o") => session.AnswerSlip(SlipAnswer.Keep),
            var answer => Unclear(session, answer),
        };
    }

    private Outcome<ProcedureRun> Corrected(ProcedureSession session) => session.AnswerSlip(SlipAnswer.AsSuggested).Then<ProcedureRun>(run =>
    {
        var corrected = run.Readings[^1];
        Say(string.Create(CultureInfo.InvariantCulture, $"recorded {corrected.Recorded}"));
        Say(string.Create(CultureInfo.InvariantCulture, $"reading {corrected.CellIndex + 1} is {Value(session, corrected)}."));
        return run;
    });

    private Outcome<ProcedureRun> Out(ProcedureSession session, Need.CheckOut need)
    {
        Say($"Out: {need.Check.Id} found {need.Found}, limit {need.Check.Limit}. Nothing after it is opened.");
        Say(OneLine(need.Check.IfOut));
        if (need.Check.Who is { } who) Say($"Who may do it: {who}.");
        var skip = need.Check.MaySkip ? " skip and a reason passes it over, recorded until done." : "";
        return Prompt("choose", need.Step, $"Put right? R makes the check again, Q puts the run aside.{skip}{BackOffered(session)} Empty for Q.") switch
        {
            null => session.Run,
            var answer when Is(answer, "r") => session.RepeatCheck(),
            var answer when IsBack(answer) => Back(session),
            var answer when SkipReason(answer) is { } reason && need.Check.MaySkip => session.Skip(reason),
            var answer when answer.Length == 0 || Is(answer, "q") || IsYes(answer) => session.Leave("put-aside", $"check {need.Check.Id} is out: {need.Found}"),
            var answer => Unclear(session, answer),
        };
    }

    private Outcome<ProcedureRun> Evaluated(ProcedureSession session) => session.Evaluate().Then<ProcedureRun>(finding =>
    {
        foreach (var line in FindingText.Lines(finding, Coverage, ShownUnits.Named(LengthUnit))) Say(line);
        Say($"finding {FindingWords.Of(finding.Verdict)} {FindingWords.Of(finding.Advice.Action)}");
        return session.Run;
    });

    private int Foot(ProcedureSession session, Need.Ended end)
    {
        Say(end.How switch
        {
            "completed" => "The run is complete.",
            "aborted" => $"The run was ended: {end.Reason}.",
            _ => $"The run was put aside: {end.Reason}. Start it again to go on from here.",
        });
        return ExitCode.Of(session.Findings.Select(finding => finding.Verdict));
    }

    private void TellCheck(CheckSheet? check)
    {
        if (check is null) return;
        Say($"{check.Id}. Limit: {check.Limit}.{(check.Source is { } source ? $" Source: {source}." : "")}{(check.Who is { } who ? $" Who may do it: {who}." : "")}");
    }

    private double? Understood(string text, string unit, string? typedIn = null)
    {
        var known = unit is "mm" or "rad" or "deg" || (typedIn is not null && typedIn != unit);
        var typed = typedIn is not null && typedIn != unit ? typedIn : unit == "mm" ? LengthUnit : known ? unit : "1";
        switch (TypedNumber.Read(text, typed))
        {
            case NumberReading.Clear clear:
                return known ? clear.Number.In(unit) : clear.Number.Value;
            case NumberReading.Ambiguous two:
                return Comma(text, two) is { } chosen ? known ? chosen.In(unit) : chosen.Value : null;
            case NumberReading.NotANumber not:
                Tell([not.Problem]);
                unclear = true;
                return null;
            default:
                throw new System.Diagnostics.UnreachableException();
        }
    }

    // A question that names its unit itself is not told it twice.
    private static string UnitAsked(Need.Number need) => need.TypedIn.Length == 0 || (" " + OneLine(need.Text)).Contains($" in {Spoken(need.TypedIn)}", StringComparison.Ordinal) ? "" : $" In {Spoken(need.TypedIn)}.";

    private string UnitTyped(string unit) => unit == "mm" ? LengthUnit : unit;

    private string WhereTo(Need.TakeReading need)
    {
        var side = need.Cell.Approach switch
        {
            Core.Machines.Approach.Increasing => "Come from below: ",
            Core.Machines.Approach.Decreasing => "Come from above: ",
            _ => "",
        };
        var places = need.Cell.GoTo.Select(position => string.Create(CultureInfo.InvariantCulture, $"{position.Axis} {ShownUnits.Named(LengthUnit).Digits(position.Mm)}"));
        var lines = need.Moves.Select(LineOf).OfType<string>();
        return $"{side}go to {string.Join(", then to ", places)}. Lines to copy: {string.Join(" then ", lines)}.";
    }

    private string? LineOf(Move move) => IsoText.Of(move, LengthUnit == "in" ? Core.Machines.LengthUnit.Inch : Core.Machines.LengthUnit.Millimetre);

    private string Commanded(Need.Motion need) =>
        string.Join('\n', [need.Text, .. need.Moves.Select(move => LineOf(move) is { } line ? $"  {move.Words}: {line}" : "  " + move.Words)]);

    // The counting ends with the run, however that ends.
    private sealed class Held(PlainFront front) : IDisposable
    {
        public void Dispose() => front.counter?.Dispose();
    }
}
