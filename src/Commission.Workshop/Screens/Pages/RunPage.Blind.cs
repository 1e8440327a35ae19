using Commission.Core.Characteristics;
using Commission.Core.Plans;
using Commission.Core.Procedures;

namespace Commission.Workshop.Screens.Pages;

/// <content>A study of the hand is made blind: who sees what was read before reads towards it, and the scatter comes out too small.</content>
public sealed partial class RunPage
{
    // Trials of the thing that is read now stay out of sight until it is read.
    private bool IsHidden(TakenReading earlier, Need.TakeReading asked) => IsSame(earlier.Cell, asked.Cell)
        && Session.Run.Procedure.AllSteps.OfType<Step.Evaluate>().Any(step => step.Groups.Contains(asked.Group) && CharacteristicKinds.Find(step.Kind) is { IsHandStudy: true });

    private static bool IsSame(PlanCell one, PlanCell other) => one.Words.TryGetValue("object", out var thing) ? other.Words.GetValueOrDefault("object") == thing : one.Place == other.Place;

    // Nor is it read back, where the same thing is asked next.
    private string Recorded(string words) => Session.Run is { Needs: Need.TakeReading asked, Readings: [.., var last] } && IsHidden(last, asked)
        ? words.Split(',')[0] + ". What it was stays hidden until the next one is read." : words;
}
