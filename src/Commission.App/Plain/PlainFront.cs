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
    private const string HazardsNotConfirmed = "the hazards were not confirmed";
    private const string HazardsAsked = "All read and done by you? yes or S for yes, no ends here.";

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

    /// <summary>What somebody sees who looks at the simulated instrument; null where a real one is read. Then all of it is practice.</summary>
    public Func<ProcedureRun, Need.TakeReading, string>? Shows { get; init; }

    /// <summary>Carries the session to its end.</summary>
    /// <returns>The exit code.</returns>
    public async Task<int> RunAsync(ProcedureSession session, CancellationToken cancellation)
    {
        stopping = cancellation;
        Head(session);
        using var counts = new Held(this);
        if (session.Left is { } left) TakeUpAgain(session, left);
        if (session.StoreFailed) return ExitCode.Failed;
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
        Say($"{Practice}Procedure {run.Procedure.Title}{axis}, machine {run.Machine.Name}.");
        Say($"Purpose: {OneLine(run.Procedure.Purpose)}");
        Say(string.Create(CultureInfo.InvariantCulture, $"Takes about {run.Procedure.Minutes:0} minutes."));
        if (!run.Setting.Link && !run.Procedure.IsBlind()) Say("No controller is linked: you command each move, this program writes down.");
        if (MeasuredWith is { } instrument) Say(instrument);
        if (MeasuredBy is { } who) Say(who);
        if (run.Assumption is { } assumed) Say(assumed);
        if (session.Left is { } left) TellLeft(run, left);
        if (session.UnderWay is { } underWay) Say(ShownUnits.Named(LengthUnit).Told(underWay.Told) + ".");
        foreach (var need in run.Procedure.Needs)
            Say($"Rests on {need.Procedure} ({(need.Must ? "needed" : "advised")}{(session.Stands(need.Procedure) is { } stands ? "; " + stands : "")}): {need.Because}");
        Say(PlainWords.Told);
    }

    // Said where somebody could take it for the real machine.
    private string Practice => Shows is null ? "" : "PRACTICE. ";

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
        Need.Line step => Prompt(session, "text", step.Step, $"{OneLine(step.Question)}{BackOffered(session)} Q puts the run aside.") is { } line ? session.Text(Words.Clean(line)) : session.Run,
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
        TellHazards(need.Hazards);
        return Prompt(session, "confirm", need.Step, HazardsAsked, aside: HazardsNotConfirmed) switch
        {
            null => session.Run,
            var answer when PlainWords.IsSo(answer) => session.HazardsRead(),
            var answer when PlainWords.IsNo(answer) => session.Leave("put-aside", HazardsNotConfirmed),
            var answer => Unclear(session, answer),
        };
    }

    private void TellHazards(ImmutableArray<Hazard> hazards)
    {
        for (var i = 0; i < hazards.Length; i++)
        {
            before.Add(string.Create(CultureInfo.InvariantCulture, $"Hazard {i + 1} of {hazards.Length}. {OneLine(hazards[i].What)}"));
            before.Add("  " + OneLine(hazards[i].Do));
        }

        if (!again) before.ForEach(Say);
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
        return Prompt(session, "confirm", name, $"{question} yes or S goes on, no puts the run aside.{BackOffered(session)}") switch
        {
            null => session.Run,
            var answer when PlainWords.IsSo(answer) => session.Confirm(),
            var answer when PlainWords.IsNo(answer) => session.Leave("put-aside", $"'{name}' was answered with no"),
            var answer => Unclear(session, answer),
        };
    }

    private Outcome<ProcedureRun> Choosing(ProcedureSession session, Need.Choose need)
    {
        TellCheck(need.Check);
        foreach (var option in need.Options.Where(option => option.Meaning != option.Word && need.Options.Length > 2)) Say($"  {option.Word}: {OneLine(option.Meaning)}");
        var words = string.Join(", ", need.Options.Select(option => option.Word));
        var text = $"{OneLine(need.Text)} One of: {words}{(need.Default is { } fallback ? $"; empty for {fallback}" : "")}.{BackOffered(session, need)} Q puts the run aside.";
        if (Prompt(session, "choose", need.Step, text, own: need) is not { } answer) return session.Run;
        if (need.Default is { } usual && (answer.Length == 0 || (IsYes(answer) && need.Options.All(option => option.Word != Yes)))) return session.Choose(usual);
        if (need.IsYesOrNo && (PlainWords.IsSo(answer) || PlainWords.IsNo(answer))) return session.Choose(PlainWords.IsSo(answer) ? Yes : "no");
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
        if (Prompt(session, "number", need.Step, OneLine(need.Text) + UnitAsked(need) + counting + BackOffered(session) + " Q puts the run aside.") is not { } answer) return session.Run;
        if (answer.Length == 0 && need.Counted is { } what && offered is { } counted)
        {
            var (value, words) = counted.Take(what);
            Say(words);
            return session.Number(words, value);
        }

        if (SkipReason(answer) is { } reason) return session.Skip(reason);
        if (Understood(session, answer, need.Unit, need.TypedIn) is not { } number) return session.Run;
        if (Kept(session, need, answer, number) is not { } kept) return session.Run;
        if (need.Counted is { } typed) offered?.Typed(typed);
        return session.Number(answer, kept);
    }

    private Outcome<ProcedureRun> Out(ProcedureSession session, Need.CheckOut need)
    {
        Say($"Out: {need.Check.Id} found {need.Found}, limit {need.Check.Limit}.{(need.Against is { } against ? " " + against : "")} Nothing after it is opened.");
        Say(OneLine(need.Check.IfOut));
        if (need.Check.Who is { } who) Say($"Who may do it: {who}.");
        var skip = need.Check.MaySkip ? " skip and a reason passes it over, recorded until done." : "";
        var aside = $"check {need.Check.Id} is out: {need.Found}";
        return Prompt(session, "choose", need.Step, $"Put right? R makes the check again, Q puts the run aside.{skip}{BackOffered(session)} Empty for Q.", aside: aside) switch
        {
            null => session.Run,
            var answer when Is(answer, "r") => session.RepeatCheck(),
            var answer when SkipReason(answer) is { } reason && need.Check.MaySkip => session.Skip(reason),
            var answer when answer.Length == 0 || IsYes(answer) => session.Leave("put-aside", aside),
            var answer => Unclear(session, answer),
        };
    }

    private Outcome<ProcedureRun> Evaluated(ProcedureSession session) => session.Evaluate().Then<ProcedureRun>(finding =>
    {
        if (Shows is not null) Say("PRACTICE: found on the simulated machine.");
        var made = session.LastMade!;
        foreach (var line in FindingSpoken.Lines(ResultName.Of(finding.Kind, made.Axis, made.Place), finding, made.Options, ShownUnits.Named(LengthUnit))) Say(line);
        Say($"finding {FindingWords.Of(finding.Verdict)} {FindingWords.Of(finding.Advice.Action)}");
        return session.Run;
    });

    private int Foot(ProcedureSession session, Need.Ended end)
    {
        Say(end.How switch
        {
            "completed" => "The run is complete. What is to be done next: history next.",
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

    // A question that names its unit itself is not told it twice.
    private static string UnitAsked(Need.Number need) => need.TypedIn.Length == 0 || (" " + OneLine(need.Text)).Contains($" in {Spoken(need.TypedIn)}", StringComparison.Ordinal) ? "" : $" In {Spoken(need.TypedIn)}.";

    private string UnitTyped(string unit) => unit == "mm" ? LengthUnit : unit;

    private string? LineOf(Move move) => IsoText.Of(move, LengthUnit == "in" ? Core.Machines.LengthUnit.Inch : Core.Machines.LengthUnit.Millimetre);

    private string Commanded(Need.Motion need) =>
        string.Join('\n', [need.Text, .. need.Moves.Select(move => LineOf(move) is { } line ? $"  {move.Words}: {line}" : "  " + move.Words)]);

    // The counting ends with the run, however that ends.
    private sealed class Held(PlainFront front) : IDisposable
    {
        public void Dispose() => front.counter?.Dispose();
    }
}
