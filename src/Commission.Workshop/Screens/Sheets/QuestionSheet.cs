using System.Collections.Immutable;
using Commission.Core.Procedures;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>One question, or one thing to do.</summary>
public sealed record QuestionView
{
    /// <summary>Where one is.</summary>
    public required string Path { get; init; }

    /// <summary>Count of the question or step.</summary>
    public string Right { get; init; } = "";

    /// <summary>The question or instruction.</summary>
    public required string Text { get; init; }

    /// <summary>Words on why it is asked and what it is good for; empty for none.</summary>
    public ImmutableArray<string> About { get; init; } = [];

    /// <summary>Rows of a drawing, as they stand; left out where they do not fit. Empty for none.</summary>
    public ImmutableArray<string> Drawing { get; init; } = [];

    /// <summary>Rows of the window.</summary>
    public int Height { get; init; } = SheetFrame.LeastHeight;

    /// <summary>Hazards of this step.</summary>
    public ImmutableArray<Danger> Hazards { get; init; } = [];

    /// <summary>Answers to choose from; empty where a number or text is typed, or nothing but a yes is wanted.</summary>
    public ImmutableArray<(string Word, string Meaning)> Choices { get; init; } = [];

    /// <summary>Index of the chosen answer.</summary>
    public int Chosen { get; init; }

    /// <summary>What is typed; null where nothing is typed.</summary>
    public string? Typed { get; init; }

    /// <summary>Unit of what is typed.</summary>
    public string Unit { get; init; } = "";

    /// <summary>What Enter does, and why.</summary>
    public required (string Next, string Because) Step { get; init; }

    /// <summary>The live strip.</summary>
    public required LiveStrip Live { get; init; }

    /// <summary>The keys.</summary>
    public required ImmutableArray<SheetKey> Keys { get; init; }
}

/// <summary>A sheet that asks for one thing.</summary>
public static class QuestionSheet
{
    private const int Room = StepDrawing.LineWidth, MostTyped = 64, MeaningColumn = 28;

    // Head, rule, step, reason, live strip and keys.
    private const int Around = 6;

    // A numbered line keeps its number in the margin.
    private static IEnumerable<string> Paragraph(string text) => text.Length > 3 && char.IsAsciiDigit(text[0]) && text[1] == ' ' && text[2] == ' '
        ? Wrap.To(text[3..], Room - 3).Select((part, i) => (i == 0 ? text[..3] : "   ") + part)
        : Wrap.To(text, Room);

    private static string[] Paragraphs(string text) => text.Split('\n', StringSplitOptions.RemoveEmptyEntries);

    /// <summary>Whether a text, its drawing and the words below it fit the smallest sheet.</summary>
    public static bool Fits(string text, ImmutableArray<string> about, ImmutableArray<string> drawing) => RowsOf(text, about, drawing) <= SheetFrame.LeastHeight - Around;

    /// <summary>Whether the drawing stands in the sheet: all of it, the text and the words below, or nothing of it.</summary>
    public static bool IsDrawn(QuestionView view) => !view.Drawing.IsEmpty && RowsOf(view.Text, view.About, view.Drawing) <= view.Height - Around;

    private static int RowsOf(string text, ImmutableArray<string> about, ImmutableArray<string> drawing) =>
        (drawing.IsEmpty ? 0 : drawing.Length + (Paragraphs(text).Length > 1 ? 2 : 1)) + Paragraphs(text).SelectMany(Paragraph).Count() + (about.IsEmpty ? 0 : 1) + about.SelectMany(words => Wrap.To(words, Room)).Count();

    /// <summary>The sheet.</summary>
    public static Sheet Of(QuestionView view)
    {
        var body = new List<Line>();
        var paragraphs = Paragraphs(view.Text);
        var drawn = IsDrawn(view);
        for (var at = 0; at < paragraphs.Length; at++)
        {
            body.AddRange(Paragraph(paragraphs[at]).Select((part, i) => i == 0 && body.Count == 0 ? new Line(" " + part, [new(1, part.Length, Ink.Strong)]) : " " + part));
            if (at == 0 && drawn)
                body.AddRange([Line.Blank, .. view.Drawing.Select(row => (Line)(" " + row)), .. paragraphs.Length > 1 ? (ReadOnlySpan<Line>)[Line.Blank] : []]);
        }

        (int, int)? cursor = null;
        if (view.Typed is { } typed)
        {
            body.Add(Line.Blank);
            // The end of a long line stays in sight, where it is being typed.
            if (typed.Length > MostTyped)
                typed = "..." + typed[^(MostTyped - 3)..];
            var cell = "[ " + typed + "_" + new string(' ', Math.Max(0, 24 - typed.Length)) + " ]";
            body.Add(((Line)("    " + cell + " " + view.Unit)).With(4, cell.Length, Ink.Focus));
            cursor = (body.Count - 1, 6 + typed.Length);
        }

        if (!view.Choices.IsEmpty)
        {
            body.Add(Line.Blank);
            foreach (var (choice, i) in view.Choices.Select((choice, i) => (choice, i)))
            {
                var mark = i == view.Chosen ? $">> [ {choice.Word} ]" : $"     {choice.Word}";
                var meaning = choice.Meaning == choice.Word ? [] : Wrap.To(choice.Meaning, SheetFrame.LeastWidth - MeaningColumn - 1).ToList();
                var line = (Line)(mark.PadRight(MeaningColumn) + meaning.FirstOrDefault());
                body.Add(i == view.Chosen ? line.With(3, mark.Length - 3, Ink.Focus) : line);
                body.AddRange(meaning.Skip(1).Select(part => (Line)(new string(' ', MeaningColumn) + part)));
            }
        }

        if (!view.About.IsEmpty)
            body.AddRange([Line.Blank, .. view.About.SelectMany(text => Wrap.To(text, Room)).Select(text => (Line)(" " + text))]);
        if (!view.Hazards.IsEmpty)
            body.AddRange([Line.Blank, .. HazardBlock.Lines(view.Hazards)]);
        return new Sheet
        {
            Path = view.Path, Right = view.Right, Body = [.. body], Next = view.Step.Next, Because = view.Step.Because,
            Live = view.Live, Keys = view.Keys, Cursor = cursor,
        };
    }
}
