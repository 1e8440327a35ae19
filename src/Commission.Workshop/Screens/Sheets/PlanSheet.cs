using System.Collections.Immutable;
using System.Globalization;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>A way to measure under the ruler of the sheet.</summary>
/// <param name="Mark">Its letter; empty for usual practice, <c>x</c> for what cannot say anything.</param>
/// <param name="Name">What it is, in words.</param>
/// <param name="Readings">Number of readings.</param>
/// <param name="Minutes">Minutes.</param>
/// <param name="Uncertainty">U as shown.</param>
/// <param name="Length">U in the unit of the ruler; null where no bar is drawn.</param>
/// <param name="Instead">Words in place of the bar; null where there is one.</param>
public sealed record PlanLine(string Mark, string Name, string Readings, string Minutes, string Uncertainty, double? Length, string? Instead = null);

/// <summary>What becomes of many machines like this one.</summary>
/// <param name="Done">What is done.</param>
/// <param name="Worse">How many of a hundred are worse than before; null where nothing is done.</param>
/// <param name="Typical">The typical error that is left, with its unit.</param>
public sealed record FateLine(string Done, int? Worse, string Typical);

/// <summary>What the sheet of plans shows.</summary>
public sealed record PlanView
{
    /// <summary>Where one is.</summary>
    public required string Path { get; init; }

    /// <summary>Limit and U that is wanted.</summary>
    public required string Right { get; init; }

    /// <summary>The ways, usual practice first.</summary>
    public required ImmutableArray<PlanLine> Ways { get; init; }

    /// <summary>Index of the chosen way; null where none can be chosen.</summary>
    public int? Chosen { get; init; }

    /// <summary>Number of the ruler at a third of its length, in the unit of the ruler.</summary>
    public required double Third { get; init; }

    /// <summary>Symbol of that unit.</summary>
    public required string Unit { get; init; }

    /// <summary>Head of what becomes of many machines; empty for none.</summary>
    public string Fate { get; init; } = "";

    /// <summary>What becomes of them.</summary>
    public ImmutableArray<FateLine> Fates { get; init; } = [];

    /// <summary>Sentences below.</summary>
    public ImmutableArray<string> Remarks { get; init; } = [];

    /// <summary>What Enter does, and why.</summary>
    public required (string Next, string Because) Step { get; init; }

    /// <summary>The live strip.</summary>
    public required LiveStrip Live { get; init; }

    /// <summary>The keys.</summary>
    public required ImmutableArray<SheetKey> Keys { get; init; }
}

/// <summary>Ways to the same result as a comparison of prices: readings, minutes, and U as a bar under one ruler.</summary>
public static class PlanSheet
{
    private const int NameRoom = 28, Wall = 52, ThirdCells = 8, FateColumn = 26, TypicalColumn = 55;

    /// <summary>Lines that a way takes.</summary>
    public static int Lines(PlanLine way) => Wrap.To(way.Name, NameRoom).Count();

    /// <summary>The sheet.</summary>
    public static Sheet Of(PlanView view, int width)
    {
        var third = ThirdCells * Math.Max(1, (width - Wall - 4) / (3 * ThirdCells));
        var head = Head(view, third);
        return new Sheet
        {
            Path = view.Path, Right = view.Right,
            Body =
            [
                new Line(head, [new(0, head.Length, Ink.Quiet)]),
                .. view.Ways.SelectMany((way, i) => Way(view, way, third, i == view.Chosen)),
                .. view.Fates.IsEmpty ? (ReadOnlySpan<Line>)[] : [Line.Blank, .. Wrap.To(view.Fate, width - 1).Select(text => (Line)(" " + text)), .. view.Fates.Select(fate => (Line)Told(fate))],
                .. view.Remarks.IsEmpty ? (ReadOnlySpan<Line>)[] : [Line.Blank, .. view.Remarks.SelectMany(text => Wrap.To(text, width - 2)).Select(text => (Line)(" " + text))],
            ],
            Next = view.Step.Next, Because = view.Step.Because, Live = view.Live, Keys = view.Keys,
        };
    }

    // A number of the ruler begins half a third's word before its place, so that the last one and the unit stay on the sheet.
    private static string Head(PlanView view, int third)
    {
        var head = " way                          readings  min     U".PadRight(Wall) + "0";
        for (var k = 1; k <= 3; k++)
            head = head.PadRight(Wall + (k * third) - 4) + (k * view.Third).ToString("0.####", CultureInfo.InvariantCulture);
        return head + " " + view.Unit;
    }

    private static IEnumerable<Line> Way(PlanView view, PlanLine way, int third, bool chosen)
    {
        var parts = Wrap.To(way.Name, NameRoom).ToList();
        for (var i = 0; i < parts.Count; i++)
        {
            var begin = i > 0 ? "   " : way.Mark.Length == 0 ? " " : $" {way.Mark} ";
            var text = begin + parts[i];
            if (i == parts.Count - 1)
                text = $"{text,-30}{way.Readings,8}{way.Minutes,5}{way.Uncertainty,6}   " + (way.Instead ?? Bar(way.Length, view.Third, third));
            var line = (Line)text;
            yield return chosen ? line.With(0, Math.Min(text.Length, Wall - 2), Ink.Focus) : line;
        }
    }

    private static string Bar(double? length, double perThird, int third)
    {
        if (length is not { } shown)
            return "|";
        var cells = (int)Math.Max(1, Math.Round(shown / perThird * third));
        return cells > 3 * third ? "|" + new string('=', (3 * third) - 1) + ">" : "|" + new string('=', cells);
    }

    private static string Told(FateLine fate)
    {
        var text = "   " + fate.Done;
        if (fate.Worse is not { } worse)
            return $"{text}".PadRight(TypicalColumn) + "typical error " + fate.Typical;
        var share = string.Create(CultureInfo.InvariantCulture, $"{worse,2} of 100 worse");
        text = text.Length < FateColumn - 1 ? text.PadRight(FateColumn) + share + " than before" : text + " " + share;
        return text.PadRight(TypicalColumn + 3) + "typical error " + fate.Typical;
    }
}
