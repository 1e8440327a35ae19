using Commission.Core.Characteristics;

namespace Commission.Workshop.Screens;

/// <summary>Sets a picture beside the body of a sheet where the window has room for both.</summary>
public static class Beside
{
    private const int WideFrom = 120;
    private const int Gap = 3;
    private const int MostRows = 30, LeastTitle = 10;

    /// <summary>The key that shows the picture over the whole sheet.</summary>
    public static SheetKey Key { get; } = new("G", "picture", "picture");

    /// <summary>The sheet with the picture beside it, or as it is where there is no room; in both cases with the key of the picture, unless G means something else there.</summary>
    public static Sheet Set(Sheet sheet, Figure figure, int width, int height, bool fine)
    {
        if (sheet.Keys.Any(key => key.Key == Key.Key))
            return sheet;
        var column = sheet.Body.IsEmpty ? Gap : Math.Max(SheetFrame.LeastWidth, sheet.Body.Max(line => line.Text.TrimEnd().Length)) + Gap;
        var cells = width >= WideFrom && height >= SheetFrame.LeastHeight ? FigureCells.Draw(figure, width - column - 1, Math.Min(MostRows, SheetFrame.BodyRows(height) - 1), fine) : [];
        var title = figure.Title.Length <= width - column - 1 ? figure.Title : Wrap.To(figure.Title, Math.Max(LeastTitle, width - column - 3)).First() + "..";
        return WithKey(sheet, width) with
        {
            Body = cells.IsEmpty ? sheet.Body :
            [
                .. Enumerable.Range(0, Math.Max(sheet.Body.Length, cells.Length + 1)).Select(row =>
                {
                    var line = row < sheet.Body.Length ? sheet.Body[row] : Line.Blank;
                    return row == 0 ? line.Set(column + 1, new Line(title, [new(0, title.Length, Ink.Quiet)]))
                        : row <= cells.Length && cells[row - 1].Length > 0 ? line.Set(column, Inking.Plain(cells[row - 1])) : line;
                }),
            ],
        };
    }

    // The key stands in row 24 where there is room; it works, and stands on the card, in any case.
    private static Sheet WithKey(Sheet sheet, int width)
    {
        var at = Math.Max(0, sheet.Keys.TakeWhile(key => key.Key is not ("N" or "L" or "K" or "F1" or "F2" or "Q")).Count());
        var with = sheet with { Keys = sheet.Keys.Insert(at, Key) };
        return SheetFrame.Text(with, width).Split('\n')[^2] is var row && sheet.Keys.All(key => key.NotNow is not null || key.Quiet || row.Contains(key.Key + " " + key.Word, StringComparison.Ordinal))
            ? with : sheet with { Keys = sheet.Keys.Insert(at, Key with { Quiet = true }) };
    }
}
