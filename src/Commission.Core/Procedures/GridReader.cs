using System.Collections.Immutable;
using Commission.Core.Plans;

namespace Commission.Core.Procedures;

/// <summary>Reads a grid: where readings are taken, by the name of a plan kind.</summary>
internal static class GridReader
{
    private static readonly Dictionary<string, AxisWindow> Windows = new(StringComparer.Ordinal)
    {
        ["low"] = AxisWindow.Low, ["middle"] = AxisWindow.Middle, ["high"] = AxisWindow.High,
    };

    private static readonly Dictionary<string, Func<YamlFields, Grid?>> Kinds = new(StringComparer.Ordinal)
    {
        ["axis"] = fields => fields.Has("phases")
            ? new Grid.Phases(fields.Whole("phases", 6, 60, required: true) ?? 6, TermReader.Read(fields, "periodMm", 0.1, 1000), fields.Number("at", 0, 1) ?? 0.5) { Axis = Axis(fields) }
            : new Grid.AlongAxis(fields.Word("window", Windows, AxisWindow.Middle)) { Axis = Axis(fields) },
        ["places"] = fields => new Grid.Places(fields.Numbers("fractions", 0, 1, required: true), fields.Whole("pairs", 1, 50, required: true) ?? 1) { Axis = Axis(fields) },
        ["pairs"] = Distances,
        ["angles"] = fields => new Grid.Angles(fields.Numbers("degrees", -360, 360, required: true)),
        ["grid"] = fields => new Grid.Points(fields.Whole("columns", 2, 30, required: true) ?? 2, fields.Whole("rows", 2, 30, required: true) ?? 2, fields.Number("marginMm", 0, 500, required: true) ?? 0),
        ["circle"] = Circle,
        ["objects"] = Objects,
    };

    public static Grid? Read(YamlFields fields)
    {
        var words = Kinds.ToDictionary(kind => kind.Key, kind => kind.Value, StringComparer.Ordinal);
        var read = fields.Word<Func<YamlFields, Grid?>?>("kind", words!, null, required: true);
        if (read is null) return null;
        var grid = read(fields);
        fields.Done();
        return grid;
    }

    private static AxisChoice Axis(YamlFields fields)
    {
        fields.Required("axis");
        return TermReader.Axis(fields, "axis") ?? new AxisChoice((Machines.AxisName?)null);
    }

    private static Grid.Distances Distances(YamlFields fields)
    {
        var sheet = Sheet(fields);
        var most = sheet is null ? 1 : 10_000;
        var marks = ImmutableArray.CreateBuilder<Mark>();
        foreach (var entry in fields.List("marks", required: true).Select(node => fields.Fields(node, "each entry of 'marks'")).OfType<YamlFields>())
        {
            marks.Add(new Mark(entry.Text("name") ?? "", entry.Number("x", 0, most, required: true) ?? 0, entry.Number("y", 0, most, required: true) ?? 0)
            {
                Approach = entry.Word("approach", Approaches, null),
            });
            entry.Done();
            if (marks.Count(mark => mark.Name == marks[^1].Name) > 1)
            {
                entry.Report(entry.Node, $"mark '{PlainText.Of(marks[^1].Name)}' is given twice", "Give each mark its own name");
                marks.RemoveAt(marks.Count - 1);
            }
        }

        var ways = ImmutableArray.CreateBuilder<(string, string)>();
        foreach (var entry in fields.List("distances", required: true).Select(node => fields.Fields(node, "each entry of 'distances'")).OfType<YamlFields>())
        {
            var (from, to) = (entry.Text("from") ?? "", entry.Text("to") ?? "");
            entry.Done();
            var known = marks.Select(mark => mark.Name).ToArray();
            foreach (var name in new[] { from, to }.Where(name => name.Length > 0 && !known.Contains(name)))
                entry.Report(entry.Node, $"there is no mark '{PlainText.Of(name)}'", "Use names that stand in 'marks'" + Spelling.DidYouMean(name, known));
            if (known.Contains(from) && known.Contains(to)) ways.Add((from, to));
        }

        return new Grid.Distances(marks.ToImmutable(), ways.ToImmutable(), fields.Whole("repeats", 1, 20) ?? 1) { Sheet = sheet, Edges = Edges(fields) };
    }

    private static MarkSheet? Sheet(YamlFields fields)
    {
        if (fields.Fields("sheet", "'sheet'") is not { } sheet) return null;
        var (width, depth) = (sheet.Number("widthMm", 20, 5000, required: true), sheet.Number("depthMm", 20, 5000, required: true));
        var range = sheet.Number("rangeMm", 50, 5000, required: true);
        sheet.Done();
        return new MarkSheet(width ?? 200, depth ?? 150, range ?? 150);
    }

    private static ImmutableArray<string> Edges(YamlFields fields)
    {
        var edges = fields.Texts("edges");
        foreach (var word in edges.Where(word => word is not ("outer" or "inner" or "centre")))
            fields.Report(fields.Optional("edges")!, $"'{PlainText.Of(word)}' is no wall of a hole", "Use outer (far walls), inner (near walls) or centre");
        return edges;
    }

    private static readonly Dictionary<string, string?> Approaches = new(StringComparer.Ordinal) { ["++"] = "++", ["+-"] = "+-", ["-+"] = "-+", ["--"] = "--" };

    private static Grid.Circle Circle(YamlFields fields)
    {
        var degrees = fields.Numbers("degrees", -360, 360, required: true);
        var turnings = fields.Texts("turnings", required: true);
        foreach (var word in turnings.Where(word => word is not ("cw" or "ccw")))
            fields.Report(fields.Optional("turnings")!, $"'{PlainText.Of(word)}' is no way a circle is cut", "Use cw (clockwise) or ccw (counter-clockwise)");
        return new Grid.Circle(degrees, turnings, fields.Whole("repeats", 1, 20) ?? 1);
    }

    private static Grid.Objects Objects(YamlFields fields)
    {
        var things = ImmutableArray.CreateBuilder<Thing>();
        foreach (var entry in fields.List("things", required: true).Select(node => fields.Fields(node, "each entry of 'things'")).OfType<YamlFields>())
        {
            things.Add(new Thing(entry.Text("name") ?? "", TermReader.Texts(entry, "given")));
            entry.Done();
        }

        return new Grid.Objects(things.ToImmutable(), fields.Whole("trials", 1, 50) ?? 1);
    }
}
