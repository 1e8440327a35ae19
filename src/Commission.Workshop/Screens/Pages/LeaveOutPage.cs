using System.Collections.Immutable;
using Commission.Core.History;
using Commission.Workshop.Screens.Keys;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>Leaves one of several readings out that a finding names, with a typed reason.</summary>
/// <param name="desk">The desk.</param>
/// <param name="made">The finding.</param>
/// <param name="named">The readings that it names, at least two.</param>
public sealed class LeaveOutPage(Desk desk, Entered<EntryBody.FindingMade> made, ImmutableArray<ReadingRecord> named) : Page(desk)
{
    private string _text = "";
    private int _chosen;

    /// <inheritdoc/>
    public override string Called => "leave it out";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => ["The finding is made anew from the rest; reading and finding stay in the log with your reason."];

    /// <inheritdoc/>
    public override KeyScene Scene => new() { TextField = true };

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => QuestionSheet.Of(new QuestionView
    {
        Path = $"{Desk.MachineName} / finding / leave it out", Text = "Which reading is left out, and why? Up and Down choose; type the reason.",
        About = ["The finding is made anew from the rest; reading and finding stay in the log."],
        Typed = _text, Live = Desk.Live, Chosen = _chosen, Choices = [.. named.Select(reading => (FindingPage.Text(reading, Desk.Units), ""))],
        Step = ("Type the reason. Enter leaves the reading out, Esc does not.", "It keeps its number and stays in the log."), Keys = [new("Enter", "leave it out", "accept"), new("Esc", "do not", "away")],
    });

    /// <inheritdoc/>
    public override void Type(char character) => _text += character;

    /// <inheritdoc/>
    public override void TakeBack() => _text = _text.Length > 0 ? _text[..^1] : _text;

    /// <inheritdoc/>
    public override void Choose(int by, bool sideways) => _chosen = Math.Clamp(_chosen + by, 0, named.Length - 1);

    /// <inheritdoc/>
    public override void FollowNext()
    {
        if (_text.Trim().Length == 0)
        {
            Desk.Say("A reason is needed: the log keeps it.");
            return;
        }

        Desk.Uncover();
        if (Said(FindingDeeds.Left(Desk, made, named[_chosen], _text.Trim())) is { } words)
            Desk.Say(words);
    }
}
