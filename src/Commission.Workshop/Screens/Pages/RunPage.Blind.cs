using Commission.Core.Plans;
using Commission.Core.Procedures;

namespace Commission.Workshop.Screens.Pages;

/// <content>A study of the hand is made blind: who sees what was read before reads towards it, and the scatter comes out too small.</content>
public sealed partial class RunPage
{
    private const string StaysHidden = "What it was stays hidden until the study ends.";

    // Until the study ends none of its readings is shown again, here or elsewhere, but one that is asked about and one that is read back to who called it.
    private bool IsHidden(TakenReading earlier) => IsBlind(earlier.Group);

    private bool IsBlind(string group) => !Session.Run.HasEnded && Session.Run.IsBlind(group);

    private static bool IsSame(PlanCell one, PlanCell other) => one.Words.TryGetValue("object", out var thing) ? other.Words.GetValueOrDefault("object") == thing : one.Place == other.Place;

    // Where numbers are called it is read back.
    private string Recorded(string words) => _layout != Layout.Call && Session.Run.Readings is [.., var last] && IsHidden(last) ? $"{words.Split(',')[0]}. {StaysHidden}" : words;
}
