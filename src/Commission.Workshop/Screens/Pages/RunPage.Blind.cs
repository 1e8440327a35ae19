using Commission.Core.Characteristics;
using Commission.Core.Plans;
using Commission.Core.Procedures;

namespace Commission.Workshop.Screens.Pages;

/// <content>A study of the hand is made blind: who sees what was read before reads towards it, and the scatter comes out too small.</content>
public sealed partial class RunPage
{
    // Trials of the thing that is read now stay out of sight until it is read.
    private bool IsHidden(TakenReading earlier, Need.TakeReading asked) => IsBlind(asked.Group) && IsSame(earlier.Cell, asked.Cell);

    // In a question about a trial the others of that thing stay out of sight too: it is read again, or kept, by what it is.
    private bool IsHidden(TakenReading earlier) => Session.Run.Needs switch
    {
        Need.TakeReading asked => IsHidden(earlier, asked),
        Need.SlipQuestion { Reading: var doubted } => earlier.Sequence != doubted.Sequence && IsBlind(doubted.Group) && IsSame(earlier.Cell, doubted.Cell),
        _ => false,
    };

    private bool IsBlind(string group) => Session.Run.Procedure.AllSteps.OfType<Step.Evaluate>().Any(step => step.Groups.Contains(group) && CharacteristicKinds.Find(step.Kind) is { IsHandStudy: true });

    private static bool IsSame(PlanCell one, PlanCell other) => one.Words.TryGetValue("object", out var thing) ? other.Words.GetValueOrDefault("object") == thing : one.Place == other.Place;

    // Nor is it read back, where the same thing is asked next.
    private string Recorded(string words) => Session.Run is { Needs: Need.TakeReading asked, Readings: [.., var last] } && IsHidden(last, asked)
        ? words.Split(',')[0] + ". What it was stays hidden until the next one is read." : words;
}
