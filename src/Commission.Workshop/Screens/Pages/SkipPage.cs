using System.Collections.Immutable;
using Commission.Core.Procedures;
using Commission.Workshop.Screens.Keys;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>Skips a check with a typed reason; bench and report show it until the check is made good.</summary>
public sealed class SkipPage(Desk desk, IWorkSession session) : Page(desk)
{
    private string _text = "";

    /// <inheritdoc/>
    public override string Called => "skip a check";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => ["A skipped check stands on the bench and in every report with its reason, until it is made. The emergency-stop checks cannot be skipped for moves over the link."];

    /// <inheritdoc/>
    public override KeyScene Scene => new() { TextField = true };

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => QuestionSheet.Of(new QuestionView
    {
        Path = $"{Desk.MachineName} / skip a check", Right = Desk.Today, Text = $"Why is {(session.Run.Needs is Need.CheckOut { Check.Id: { } id } ? id : "this check")} skipped?", Typed = _text, Live = Desk.Live,
        About = ["It stands on the bench and in every report with this reason, until it is made."],
        Step = ("Type the reason. Enter skips the check, Esc does not.", "P05 to P07, the emergency stop, cannot be skipped for moves over a link."),
        Keys = [new("Enter", "skip it", "accept"), new("Esc", "do not", "away"), new("F1", "help", "help")],
    });

    /// <inheritdoc/>
    public override void Type(char character) => _text += character;

    /// <inheritdoc/>
    public override void TakeBack() => _text = _text.Length > 0 ? _text[..^1] : _text;

    /// <inheritdoc/>
    public override void FollowNext()
    {
        if (_text.Trim().Length == 0)
        {
            Desk.Say("A reason is needed: the log keeps it.");
            return;
        }

        Desk.Uncover();
        if (Said(session.Happen(new RunEvent.Skipped(_text.Trim()))) is { } words)
            Desk.Say(words);
        Desk.Refresh();
    }
}
