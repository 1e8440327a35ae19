using System.Globalization;

namespace Commission.Core.Procedures;

/// <summary>Reads the drawing of a step: rows as they stand in the file.</summary>
internal static class DrawingReader
{
    private const string Axis = "{axis}";

    public static StepDrawing? Read(YamlFields fields)
    {
        if (fields.Optional("drawing") is not { } node)
        {
            if (fields.Optional("drawingWords") is { } alone) fields.Report(alone, "'drawingWords' stands without a drawing", "Add 'drawing: |-' with its rows below, or remove the words");
            return null;
        }

        var words = fields.Text("drawingWords");
        if (fields.Text("drawing") is null || node is not YamlNode.Leaf leaf) return null;
        string[] rows = [.. leaf.Value.TrimEnd().Split('\n').Select(row => row.TrimEnd())];
        if (rows.Length > StepDrawing.MostRows)
            fields.Report(node, string.Create(CultureInfo.InvariantCulture, $"the drawing has {rows.Length} rows"), string.Create(CultureInfo.InvariantCulture, $"Draw it in at most {StepDrawing.MostRows}"));
        for (var i = 0; i < rows.Length; i++)
        {
            var row = (i + 1).ToString(CultureInfo.InvariantCulture);
            if (rows[i].Length > StepDrawing.MostWidth || rows[i].Any(character => character is < ' ' or > '~'))
                fields.Report(node, $"row {row} of the drawing is too wide, or holds a character that not every terminal has", string.Create(CultureInfo.InvariantCulture, $"Use at most {StepDrawing.MostWidth} characters of plain ASCII"));
            // A name is as long as it is: what stood behind it would lose its column.
            if (Placeholders.In(rows[i]).ToArray() is { Length: > 0 } names && !(names is ["axis"] && rows[i].EndsWith(Axis, StringComparison.Ordinal)))
                fields.Report(node, $"row {row} of the drawing names something else than {Axis} at its end", "Say it in 'text' or 'drawingWords', where columns do not matter");
        }

        return new StepDrawing([.. rows], words ?? "");
    }
}
