using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Workshop.Requests;

namespace Commission.Workshop.Screens.Pages;

/// <summary>What can be done about a reading that a finding asks to be taken again: that, or leaving it out with the reason.</summary>
public static class FindingDeeds
{
    /// <summary>The keys; none where no reading is named.</summary>
    /// <param name="ledger">The ledger that holds the finding and its readings.</param>
    /// <param name="made">The finding.</param>
    public static ImmutableArray<SheetKey> Keys(Ledger ledger, EntryBody.FindingMade made) => Doubted(ledger, made).IsEmpty ? []
        : [new("R", "take again", "take-again"), new("E", "leave it out", "leave-out")];

    /// <summary>Does one of them; whether it was one.</summary>
    public static bool Do(Desk desk, Ledger ledger, Entered<EntryBody.FindingMade> made, string action)
    {
        if (action is not ("take-again" or "leave-out") || Doubted(ledger, made.Body) is not [var reading, ..] doubted)
            return false;
        if (action == "take-again")
            TakeAgain(desk, ledger, made.Body);
        else if (doubted.Length > 1)
            desk.Cover(new LeaveOutPage(desk, made, doubted));
        else
            LeaveOut(desk, made, reading);
        return true;
    }

    /// <summary>The procedure whose run found it, or that bears its name; null where it is not at hand.</summary>
    public static Procedure? ProcedureOf(Desk desk, Ledger ledger, EntryBody.FindingMade made)
    {
        var begun = made.Run is { } run && ledger.Runs.TryGetValue(run, out var known) ? known.Started.Body.Procedure : made.Characteristic;
        return desk.Means.Procedures.FirstOrDefault(procedure => procedure.Id == begun);
    }

    // Those that are named and count.
    private static ImmutableArray<ReadingRecord> Doubted(Ledger ledger, EntryBody.FindingMade made) =>
    [
        .. made.Finding.Suspects.Select(suspect => suspect.Row).Where(row => row > 0 && !made.Readings.IsDefault && row <= made.Readings.Length).Distinct().Order()
            .Select(row => ledger.Readings.GetValueOrDefault(made.Readings[row - 1])).OfType<ReadingRecord>().Where(reading => reading.Counts),
    ];

    // What was evaluated stands: a reading is taken again with the others of its plan.
    private static void TakeAgain(Desk desk, Ledger ledger, EntryBody.FindingMade made)
    {
        if (ProcedureOf(desk, ledger, made) is not { } again)
        {
            desk.Say("The procedure of this finding is not at hand.");
            return;
        }

        desk.Show(new OverviewPage(desk, again, MachineWords.Axis(made.Axis)) { From = 'F' });
        desk.Say("A new run reads its plan anew; until it has its finding this one stands.");
    }

    private static void LeaveOut(Desk desk, Entered<EntryBody.FindingMade> made, ReadingRecord reading) => desk.Cover(new TextPage(desk, new TextAsked(
        "leave it out", string.Create(CultureInfo.InvariantCulture, $"Why is reading {reading.Taken.Body.Number} left out?"), $"{FindingPage.Text(reading, desk.Units)}. The finding is made anew from the rest; reading and finding stay in the log.", "leave it out", "Type the reason. Enter leaves it out.",
        reason => Left(desk, made, reading, reason))));

    /// <summary>Leaves a reading out of a finding and shows the finding of the rest.</summary>
    internal static Outcome<string> Left(Desk desk, Entered<EntryBody.FindingMade> made, ReadingRecord reading, string reason) =>
        new LeaveOutOfFinding(desk.Means.Journal, CharacteristicKinds.Find).Run(made, reading.Sequence, reason, desk.Operator).Then<string>(entry =>
        {
            desk.Refresh();
            desk.Show(new FindingPage(desk, desk.Ledger.Findings[entry.Sequence].Made));
            return string.Create(CultureInfo.InvariantCulture, $"Reading {reading.Taken.Body.Number} is left out; this is the finding of the rest.");
        });
}
