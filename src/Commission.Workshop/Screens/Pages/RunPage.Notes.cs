using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Procedures;
using static Commission.Core.Quantities.Words;

namespace Commission.Workshop.Screens.Pages;

/// <content>What a wide window shows beside a step: the way with where one is, the hazards, and what ends it early.</content>
public sealed partial class RunPage
{
    private const int StepsBefore = 4, LeastSteps = 5, MostSteps = 16;

    /// <inheritdoc/>
    public override IEnumerable<Line> Notes(int room, int rows)
    {
        if (Session.Run.Needs is Need.TakeReading or Need.SlipQuestion or Need.Ended)
            return [];
        // All hazards or none: the card had them whole.
        var hazards = HazardBlock.Lines(Session.Run.Procedure.Hazards.Select(hazard => new Danger(Units.Told(hazard.What), Units.Told(hazard.Do))), room).ToList();
        var steps = Math.Min(MostSteps, rows - hazards.Count - 4);
        return
        [
            .. Way(room, steps < LeastSteps ? MostSteps : steps), Line.Blank, .. steps < LeastSteps ? [] : hazards.Append(Line.Blank),
            .. SideNotes.Part("ENDS EARLY", Session.Run.Procedure.Abort.Select(text => Capital(Units.Told(text))), room),
        ];
    }

    // A few steps before the one that is asked, and those that come; of a check its number, what it asks, and how it was answered.
    private IEnumerable<Line> Way(int room, int shown)
    {
        RunItem[] items = [.. Session.Run.Way];
        var at = Session.Run.StepNumber - 1;
        var begun = Begun;
        var made = Desk.Ledger.Checks.Where(check => check.Body.Run == begun && !check.Body.IsTakenBack).GroupBy(check => check.Body.Step).ToDictionary(group => group.Key, group => group.Last().Body.Passed, StringComparer.Ordinal);
        var first = Math.Clamp(at - Math.Min(StepsBefore, shown / 3), 0, Math.Max(0, items.Length - shown));
        yield return Head(string.Create(CultureInfo.InvariantCulture, $"THE WAY, {items.Length} STEPS"));
        for (var i = first; i < Math.Min(items.Length, first + shown); i++)
        {
            var mark = i == at ? ">>" : made.TryGetValue(items[i].Name, out var passed) ? passed ? "in" : "OUT" : "";
            var text = string.Create(CultureInfo.InvariantCulture, $"{mark,-3} {i + 1,2}  {Told(items[i])}");
            yield return text.Length <= room ? text : text[..(room - 2)] + "..";
        }

        if (first + shown < items.Length)
            yield return string.Create(CultureInfo.InvariantCulture, $"       and {items.Length - first - shown} more");
    }

    private static string Told(RunItem item) => item.Step is Step.Check { Id: { Length: > 0 and <= MostId } id } check ? $"{id} {check.Ask.ReplaceLineEndings(" ")}" : item.Name.Replace('-', ' ').Replace("/", ", ", StringComparison.Ordinal);

    private static Line Head(string text) => new(text, [new(0, text.Length, Ink.Quiet)]);
}
