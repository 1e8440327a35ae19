using System.Collections.Immutable;

namespace Commission.Workshop.Screens;

/// <summary>What stands below the horizontal axis of a figure in cells: the numbers of its marks, and its label beside them or below.</summary>
internal static class FigureFoot
{
    // Of the numbers one gives way to the label, as the unit takes the place of the last number on a ruler; not the last but two.
    private const int LeastNumbers = 2, MostHidden = 1;

    /// <summary>Rows that the foot takes.</summary>
    public static int Rows(CellPlane plane, string label, int width) => 1 + (Fits(plane, label, width) ? 0 : Wrap.To(label, width - 1).Count());

    /// <summary>Words with their first column, and their row counted from that of the numbers.</summary>
    /// <param name="plane">The plane.</param>
    /// <param name="label">Label of the axis.</param>
    /// <param name="width">Cells across.</param>
    /// <param name="rows">Rows that there are; the label has its own where there are more than one.</param>
    public static ImmutableArray<(int Column, int Row, string Text)> Words(CellPlane plane, string label, int width, int rows)
    {
        if (rows > 1)
            return [.. Numbers(plane, width), .. Wrap.To(label, width - 1).Take(rows - 1).Select((text, i) => (width - text.Length, i + 1, text))];
        var from = Math.Max(0, width - label.Length);
        return [.. Numbers(plane, from - 1), (from, 0, label)];
    }

    private static bool Fits(CellPlane plane, string label, int width)
    {
        var (all, beside) = (Numbers(plane, width).Count, Numbers(plane, width - label.Length - 1).Count);
        return beside == all || (beside >= LeastNumbers && all - beside <= MostHidden);
    }

    // Each below its mark; one that would touch the one before or run out of the room is left out, the first and the last may stand a little aside.
    private static List<(int Column, int Row, string Text)> Numbers(CellPlane plane, int end)
    {
        var numbers = new List<(int, int, string)>();
        var free = plane.Left - 1;
        foreach (var (at, text) in plane.Across.Marks)
        {
            var middle = (int)plane.Place(at, plane.Up.Low).X;
            var start = numbers.Count == 0 ? Math.Max(free, middle - (text.Length / 2)) : middle - (text.Length / 2);
            if (start + text.Length > end && middle < end)
                start = end - text.Length;
            if (start < free || start + text.Length > end)
                continue;
            numbers.Add((start, 0, text));
            free = start + text.Length + 1;
        }

        return numbers;
    }
}
