using System.Collections.Immutable;
using Commission.Core.Motion;
using Commission.Core.Quantities;
using Commission.Workshop.Screens.Keys;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>Trust in the position was lost at rest: what happened, and a key that says it was read and confirms no move.</summary>
/// <param name="desk">The desk.</param>
/// <param name="why">What happened, a clause.</param>
/// <param name="losses">How often trust had been lost when that was told.</param>
public sealed class LossPage(Desk desk, string why, int losses) : Page(desk)
{
    private string _why = why;
    private int _losses = losses;

    /// <inheritdoc/>
    public override string Called => "position not trusted";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
    [
        "Nothing is sent that moves the machine before you have read what happened: S says so.",
        "After that the machine homes, or its axes are put on their places again, each with its own box. Esc puts this sheet away and leaves it open.",
    ];

    /// <inheritdoc/>
    public override KeyScene Scene => base.Scene with { Places = "" };

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => QuestionSheet.Of(new QuestionView
    {
        Path = $"{Desk.MachineName ?? "Commission"} / position not trusted", Right = Desk.Today, Live = Desk.Live,
        Text = $"{Words.Capital(_why)}. The position is not trusted any more.",
        About = ["Look at the machine: does anything touch, hang or still move? If it moves, hit the wired emergency stop.", "Readings that were accepted are on disk. The place of the next one is reached anew."],
        Step = ("Look, then S: read, by me. Nothing that moves it is sent before.", $"After that: {Onward.After}. Enter does nothing here."),
        Keys = [new("S", "read, by me", "read"), new("Esc", "later", "away"), new("F9", "stop", "stop"), new("N", "note", "note"), new("F1", "help", "help")],
    });

    private (string Trust, string After, string Written) Onward => LinkWords.Onward(Desk.Link?.Now?.Gate);

    /// <inheritdoc/>
    public override void FollowNext() => Desk.Say("Enter does nothing here. Look at the machine; then S.");

    /// <inheritdoc/>
    public override void Away() => Desk.Uncover();

    /// <inheritdoc/>
    public override void Deed(string action)
    {
        if (action != "read")
        {
            FollowNext();
            return;
        }

        Desk.Link?.Understood('S', _losses);
        if (Desk.Link?.Now?.Gate is { State: TrustState.Stopped, Trouble: { } more } gate && gate.Losses != _losses)
        {
            (_why, _losses) = (more, gate.Losses);
            Desk.Say("More has happened since this was drawn. Read it; then S.");
            return;
        }

        if (Desk.Link?.Now?.Gate.State is TrustState.Stopped)
        {
            Desk.Say("The controller has not told that it rests. Look at it and at the cable, then S again; Esc leaves this open.");
            return;
        }

        Desk.Uncover();
        Desk.Say(Onward.Trust);
    }
}
