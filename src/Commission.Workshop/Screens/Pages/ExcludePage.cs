using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.Procedures;
using Commission.Workshop.Screens.Keys;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>Leaves a reading out, with a typed reason.</summary>
public sealed class ExcludePage(Desk desk, IWorkSession session) : Page(desk)
{
    private string _text = "";
    private int _chosen = Math.Max(0, session.Run.Readings.Count(reading => reading.Stands) - 1);

    /// <inheritdoc/>
    public override string Called => "leave a reading out";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => ["A reading that is left out keeps its number and stays in the log with your reason."];

    private ImmutableArray<TakenReading> Standing => [.. session.Run.Readings.Where(reading => reading.Stands)];

    /// <inheritdoc/>
    public override KeyScene Scene => new() { TextField = true };

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => QuestionSheet.Of(new QuestionView
    {
        Path = $"{Desk.MachineName} / leave a reading out", Text = Standing.IsEmpty ? "There is no reading yet." : "Which reading, and why? Up and Down choose; type the reason.",
        Typed = _text, Live = Desk.Live, Chosen = _chosen,
        Choices = [.. Standing.Select(reading => (string.Create(CultureInfo.InvariantCulture, $"{reading.CellIndex + 1} {reading.Cell.Place}  {(session.Run.IsBlind(reading.Group) ? "taken" : reading.Typed)}"), reading.Excluded ?? ""))],
        Step = ("Type the reason. Enter leaves the reading out, Esc does not.", "It keeps its number and stays in the log."), Keys = [new("Enter", "leave it out", "accept"), new("Esc", "do not", "away")],
    });

    /// <inheritdoc/>
    public override void Type(char character) => _text += character;

    /// <inheritdoc/>
    public override void TakeBack() => _text = _text.Length > 0 ? _text[..^1] : _text;

    /// <inheritdoc/>
    public override void Choose(int by, bool sideways) => _chosen = Math.Clamp(_chosen + by, 0, Math.Max(0, Standing.Length - 1));

    /// <inheritdoc/>
    public override void FollowNext()
    {
        if (Standing.IsEmpty)
        {
            Desk.Uncover();
        }
        else if (_text.Trim().Length == 0)
        {
            Desk.Say("A reason is needed: the log keeps it.");
        }
        else
        {
            Desk.Uncover();
            if (Said(session.Happen(new RunEvent.LeftOut(Standing[_chosen].Sequence, _text.Trim()))) is { } words)
                Desk.Say(words);
            Desk.Refresh();
        }
    }
}
