using Commission.Core.Procedures;

namespace Commission.Workshop.Screens.Pages;

/// <summary>The drawing of a step and the same in words, over the step: also where the step leaves no room for it.</summary>
public sealed class DrawingPage(Desk desk, StepDrawing drawing) : Page(desk)
{
    /// <inheritdoc/>
    public override string Called => "picture";

    /// <inheritdoc/>
    public override System.Collections.Immutable.ImmutableArray<string> Help => [drawing.Words];

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => new()
    {
        Path = $"{Desk.MachineName} / work / picture", Live = Desk.Live,
        Body = [.. drawing.Rows.Select(row => (Line)(" " + row)), Line.Blank, .. Wrap.To(drawing.Words, SheetFrame.LeastWidth - 4).Select(text => (Line)(" " + text))],
        Next = "Enter puts the picture away.", Because = "The step is not answered by that.",
        Keys = [new("Enter, Esc", "away", "away"), new("PgUp, PgDn", "scroll", "scroll"), new("F1", "help", "help"), new("F2", "card", "card")],
    };

    /// <inheritdoc/>
    public override void FollowNext() => Desk.Uncover();

    /// <inheritdoc/>
    public override void Away() => Desk.Uncover();

    /// <inheritdoc/>
    public override void Deed(string action) => FollowNext();
}
