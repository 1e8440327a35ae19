using System.Collections.Immutable;
using Commission.Core.History;
using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>Makes the report of one session: one run of a procedure with all that was found, checked, skipped and read in it.</summary>
public static class SessionReport
{
    // The step under which a run keeps that its hazards were read.
    private const string HazardsStep = "hazards";

    /// <summary>The report.</summary>
    /// <param name="ledger">The ledger up to the instant of the report.</param>
    /// <param name="scope">What it tells of.</param>
    /// <param name="run">Number of the run: the entry that began it.</param>
    /// <returns>The report, or a problem where the machine has no such run.</returns>
    public static Outcome<Report> Build(Ledger ledger, ReportScope scope, long run)
    {
        if (!ledger.Runs.TryGetValue(run, out var found) || found.Started.Body.Machine != scope.Machine.Name)
            return new Problem(Invariant($"no run of {scope.Machine.Name} began with entry {run}"), Known(ledger, scope));
        var findings = found.Findings.Select(sequence => ledger.Findings[sequence]).ToList();
        return new Report
        {
            Title = Invariant($"Session {run}: {found.Started.Body.Procedure}{(found.Started.Body.Axis is { } axis ? " " + axis : "")} on {scope.Machine.Name}"),
            AsOf = scope.AsOf,
            Practice = ledger.Born?.Body.Nature == StoreNature.Practice,
            Sections = ReportBuilder.Filled(
            [
                new ReportSection("What was found", 1, [Head(scope, found), ReportBuilder.Table(scope, findings), FindingSections.Reasons(findings)]),
                .. findings.Select(finding => FindingSections.Of(ledger, scope, finding)),
                Hazards(scope, found),
                new ReportSection("What was checked and confirmed", 1,
                [
                    .. CheckSections.Blocks(ledger, scope, ledger.Checks.Where(check => check.Body.Run == run)),
                    Confirmations(scope, found),
                ]),
                new ReportSection("What was skipped", 1, [new ReportBlock.Items([.. Skips(ledger, run)])]),
                InstrumentSection.Of(ledger, scope, findings),
                ReportBuilder.Methods(findings),
                ReportBuilder.Origin(scope),
                new ReportSection("Raw readings", 1, [FindingSections.RawOf(ledger, scope, run)]),
            ]),
        };
    }

    private static ReportSection Hazards(ReportScope scope, RunRecord run)
    {
        var (texts, read) = (new RunTexts(scope, run), run.Confirmations.Find(said => said.Body.Step == HazardsStep));
        return new("Hazards", 1,
        [
            new ReportBlock.Paragraph(read is null ? "The hazards were not answered for in this run." : Invariant($"Read before the first step, answered with {read.Body.Answer}, {read.At:yyyy-MM-dd HH:mm zzz}.")),
            new ReportBlock.Items(texts.WhyNone is { } why ? [$"No text: {why}."] : texts.Hazards),
        ]);
    }

    private static ReportBlock.Table Confirmations(ReportScope scope, RunRecord run)
    {
        var texts = new RunTexts(scope, run);
        return new(
            "confirmation",
            ["step", "statement", "answer", "at"],
            [.. run.Confirmations.Where(said => said.Body.Step != HazardsStep).Select(said => (ImmutableArray<ReportCell>)
                [said.Body.Step, texts.Of(said.Body.Step) ?? $"no text at hand: {texts.WhyNone ?? "the procedure has no such step"}", scope.Units.Told(said.Body.Answer), Invariant($"{said.At:yyyy-MM-dd HH:mm zzz}")])])
        { Long = true };
    }

    private static ReportBlock.Paragraph Head(ReportScope scope, RunRecord run)
    {
        var by = run.Started.Body.Operator is { } person ? ", by " + scope.Person(person) : "";
        var how = run.Standing switch
        {
            RunStanding.Completed => "carried out to its end",
            RunStanding.Aborted => "given up: " + (run.Ended?.Body.Reason ?? "no reason was given"),
            RunStanding.PutAside => "put aside",
            _ => "begun and not ended",
        };
        return new(Invariant($"Begun {run.Started.At:yyyy-MM-dd HH:mm zzz}{by}; {how}. {run.Readings.Count} readings, seed {run.Started.Body.Seed}, hash of the procedure {run.Started.Body.ProcedureHash}."));
    }

    private static List<string> Skips(Ledger ledger, long run)
    {
        var open = ledger.OpenSkips.Where(skip => skip.Made.Body.Run == run).Select(skip => $"{skip.Words}: {skip.Made.Body.Reason}").ToList();
        return open.Count > 0 ? open : ["nothing that is still open"];
    }

    private static string Known(Ledger ledger, ReportScope scope)
    {
        ImmutableArray<long> all = [.. ledger.Runs.Values.Where(run => run.Started.Body.Machine == scope.Machine.Name).Select(run => run.Sequence)];
        return all.IsEmpty ? "It has none yet" : "Its runs: " + string.Join(", ", all.Select(run => Invariant($"{run}")));
    }
}
