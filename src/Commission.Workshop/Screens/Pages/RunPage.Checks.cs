using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.History;
using Commission.Core.Procedures;
using Commission.Core.Reports;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <content>The record of the checks, where one is out.</content>
public sealed partial class RunPage
{
    private const int HazardsShown = 1;

    // A check by its number; by the name of a step it is said less plainly than "it".
    private const int MostId = 5;

    private ImmutableArray<RunItem> Checks => Session.Run.Checks;

    private int ChecksBefore => Checks.TakeWhile(item => item.Name != Session.Run.Current?.Name).Count();

    // Steps are counted, and where the run is a list of checks those.
    private string Count => Session.Run.Current is { Step: Step.Check } && Checks.Length > 1
        ? string.Create(CultureInfo.InvariantCulture, $"check {ChecksBefore + 1} of {Checks.Length}")
        : string.Create(CultureInfo.InvariantCulture, $"step {Session.Run.StepNumber} of {Session.Run.StepCount}");

    // The number by which the record, the bench and the reports name the check that is asked.
    private string CheckId => Session.Run.Current is { Step: Step.Check { Id: { Length: <= MostId } id } } ? id + " . " : "";

    private Sheet CheckOut(Need.CheckOut need, int height)
    {
        var check = need.Check;
        var limit = CheckListSheet.Short(check.Limit, (Session.Run.Current?.Step as Step.Check)?.Answer is CheckAnswer.Number { Unit: var unit } ? unit : "");
        var skip = check.MaySkip ? null : "this check cannot be skipped";
        return CheckListSheet.Of(
            new CheckListView
            {
                Path = Path, Right = $"{Desk.Today} . {Count}", Live = Desk.Live, NotOpened = Checks.Length - ChecksBefore - 1,
                Rows = [.. ChecksMade(need.Step), new CheckRow(check.Id, Ask(need.Step), need.Found, limit, Desk.Operator ?? "", Passed: false) { Whole = check.Limit }],
                Hazards = [.. Session.Run.Procedure.Hazards.Take(HazardsShown).Select(hazard => new Danger(hazard.What, hazard.Do))], Then = [need.Against is { } against ? $"{against} {check.IfOut}" : check.IfOut, .. check.Who is { } who ? (ReadOnlySpan<string>)[$"By: {who}."] : []],
                // A list that only checks is the one before power; elsewhere it is what was measured that does not hold.
                Step = ($"{(Checks.Length == Session.Run.Items.Count(item => item.Step is Step.Check or Step.Read) ? "Plug out. Find it with the power off" : "Put it right")}. Then read {(check.Id.Length <= MostId ? check.Id : "it")} again with R.", "Because: nothing after it is opened while it is out."),
                Keys =
                [
                    new("R", $"read {check.Id} again", "again"), new("N", "note who and what", "note"), new("D", "how to measure", "how"), new("Esc", "bench", "away"), new("F2", "card", "card"),
                    new("E", "skip with a reason", "skip", skip), new("O", "put aside", "aside") { Quiet = true }, new("U", "undo", "undo-reading", NoWayBack), new("Q", "leave", "leave-run", "from the bench; Esc first"), new("F1", "help", "help") { Quiet = true },
                ],
            },
            height);
    }

    private long? Begun => Desk.Ledger.Runs.Values.LastOrDefault(run => run.Started.Body.Machine == Desk.MachineName && run.Started.Body.Procedure == Session.Run.Procedure.Id)?.Sequence;

    // The checks of this run as the log has them, the newest of each.
    private ImmutableArray<CheckRow> ChecksMade(string now)
    {
        var begun = Begun;
        return [.. Desk.Ledger.Checks.Where(made => made.Body.Run == begun && made.Body.Step != now).GroupBy(made => made.Body.Step).Select(group => group.Last().Body)
            .Select(made => new CheckRow(made.Check, Ask(made.Step), CheckText.Found(made, Desk.Units), CheckListSheet.Short(CheckText.Limit(made, Desk.Units), CheckText.Symbol(made.Unit, Desk.Units)), made.Operator ?? "", made.Passed) { Whole = CheckText.Limit(made, Desk.Units) })];
    }

    private string Ask(string step) => Session.Run.Items.FirstOrDefault(item => item.Name == step)?.Step is Step.Check check ? check.Ask : "";

    private WordsPage HowToMeasure() => new WordsPage(Desk, "how to measure", Session.Run.Current?.Step is Step.Check check
        ? [check.Ask, $"Limit: {(Session.Run.Needs as Need.CheckOut)?.Check.Limit}", $"If it is out: {check.IfOut}", .. check.Who is { } who ? (ReadOnlySpan<string>)[$"Who: {who}"] : [], .. check.Source is { } source ? (ReadOnlySpan<string>)[$"Source: {source}"] : []]
        : []);
}
