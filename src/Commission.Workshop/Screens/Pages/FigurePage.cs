using System.Collections.Immutable;
using Commission.Core.Characteristics;

namespace Commission.Workshop.Screens.Pages;

/// <summary>A picture over the whole sheet, with what it shows in a sentence.</summary>
public sealed class FigurePage(Desk desk, Figure figure) : Page(desk)
{
    /// <inheritdoc/>
    public override string Called => "picture";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
        ["The picture of the report, from the same values. > came in going +, < came in going -, x was left out, * is fitted, | is U; the words below it say what else is drawn."];

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        ImmutableArray<Line> said = [.. Wrap.To(figure.Summary, width - 2).Select(text => (Line)(" " + text))];
        var cells = FigureCells.Draw(figure, width - 2, SheetFrame.BodyRows(height) - said.Length, Desk.Fine);
        return new Sheet
        {
            Path = $"{Desk.MachineName} / picture", Right = figure.Title, Live = Desk.Live,
            Body = [.. cells.Select(Inking.Plain), .. said],
            Next = "Enter or Esc puts the picture away.", Because = "Nothing is changed by looking.",
            Keys = [new("Enter", "away", "away"), new("F1", "help", "help"), new("F2", "card", "card")],
        };
    }

    /// <inheritdoc/>
    public override void FollowNext() => Desk.Uncover();
}
