using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Core.Upkeep;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <content>Changes that a step asks for: written over the link, told as a value, or done by hand.</content>
public sealed partial class RunPage
{
    // Only the ratio is written by this program; everything else is set at the machine and told.
    private bool Writes(Need.Change change) => Linked && change.Proposed is { Name: "stepsPerMm", Axis: not null };

    private Sheet Changing(Need.Change change, int height)
    {
        if (change.Proposed is null)
            return AtTheMachine(change, height);
        var sheet = FindingSheet.Of($"{Path} / finding", Called, change.Finding!, Session.Finding?.Body.Options ?? new FitOptions(), Desk.Live, Desk.Units);
        if (Writes(change))
        {
            return sheet with
            {
                Keys = [new("Enter", "difference", "next"), new("O", "leave as is", "leave-change"), new("D", "all numbers", "details"), new("N", "note", "note"), new("F2", "card", "card")],
            };
        }

        sheet = sheet with
        {
            Body = sheet.Body.Insert(BelowTheSetting(sheet.Body), ((Line)(" told: the value the controller holds now " + ReadingsSheet.Cell(_typed, cursor: true))).With(42, 12, Ink.Focus)),
            Next = "Set it in the controller, read it back, type what it holds. Enter.",
            Because = SettingDeeds.WhyByHand(Desk, change.Proposed) is { } why ? $"By hand: {why}. O leaves it as it is." : "Or O to leave it as it is. Either way the finding stays in the log.",
            Keys = [new("Enter", "accept", "accept"), new("O", "leave as is", "leave-change"), new("D", "all numbers", "details"), new("N", "note", "note"), new("F2", "card", "card")],
        };
        return _doubt is { } asked ? sheet with { Next = Choices(asked), Because = Units.Told(asked.Reason) + ". A slip?", Keys = DoubtKeys(asked, sheet.Keys) } : sheet;
    }

    // Beside the value that is proposed, and in sight however long the reasons are.
    private static int BelowTheSetting(ImmutableArray<Line> body) => body.Select((line, i) => (line, i)).FirstOrDefault(pair => pair.line.Text.StartsWith(" Setting ", StringComparison.Ordinal)) is { line: not null, i: var at }
        ? Enumerable.Range(at, body.Length - at).FirstOrDefault(i => body[i].Text.Length == 0, body.Length) : body.Length;

    // What to do stands first and whole; a value is asked for only where there is one.
    private Sheet AtTheMachine(Need.Change change, int height)
    {
        var byHand = change.IsByHand;
        var unit = TypedEntry.UnitOf("mm", Session.Run.Machine.Units);
        return QuestionSheet.Of(new QuestionView
        {
            Path = Path, Right = Count, Text = change.Text, About = change.Finding is { } finding ? [Units.Told(finding.Advice.Because)] : [], Live = Desk.Live, Height = height,
            Typed = byHand ? null : _typed, Unit = byHand ? "" : unit,
            Step = byHand ? ("Do it. S means: it is done. O: it is not done, the run goes on.", "Enter does nothing here. What was done makes stale what it touches.")
                : ($"Do it, type the value that holds now in {unit} with its sign. Enter.", "Or O: nothing was changed. What was set makes stale what it touches."),
            Keys =
            [
                byHand ? new("S", "done", "change-done") : new SheetKey("Enter", "accept", "accept"), new("O", byHand ? "not done" : "nothing changed", "leave-change"),
                .. Session.Finding is null ? (ReadOnlySpan<SheetKey>)[] : [new("D", "all numbers", "details")], new("N", "note", "note"), new("Q", "leave", "leave-run", "from the bench; Esc first"),
                new("Esc", "bench", "away"), new("F1", "help", "help"), new("F2", "card", "card"),
            ],
        });
    }

    private void Follow(Need.Change change)
    {
        if (Writes(change))
            PlanWrite(change);
        else
            Desk.Say(change.IsByHand ? "Enter does nothing here. S means: it is done. O: it is not done." : "Type the value that holds now, then Enter. O leaves it as it was.");
    }

    // On the medium before anything else; what follows waits until the page of the write is left.
    private void Written()
    {
        Said(Session.Happen(new RunEvent.ChangeTold(null)));
        Desk.Refresh();
    }

    private void PlanWrite(Need.Change change) => SettingDeeds.Box(Desk, Desk.Link!, change.Proposed!, $"{Desk.MachineName} / findings / {Called} / set", Written, () => After());

    private void Told(Need.Change change)
    {
        var given = change.Told is null ? Given(change.Proposed!.ExpressedAs) : Given("mm", TypedEntry.UnitOf("mm", Session.Run.Machine.Units));
        if (given is not { } value || (change.Told is null && Doubts(change.Proposed!, value)))
            return;
        Happen(new RunEvent.ChangeTold(value));
        if (change.Told is not null && Session.Run.Needs.Step != change.Step)
            Desk.Say(StaleTable.Sentence(change.EnteredAs));
    }

    private void Made(Need.Change? change)
    {
        if (change is not { IsByHand: true })
            return;
        Happen(new RunEvent.ChangeTold(null));
        if (Session.Run.Needs.Step != change.Step)
            Desk.Say(StaleTable.Sentence(change.EnteredAs));
    }
}
