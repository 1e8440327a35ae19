using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Instruments;
using Commission.Core.Machines;

namespace Commission.Core.Procedures;

/// <summary>Reads steps. Each step is one mapping with exactly one key that says its kind.</summary>
internal static class StepReader
{
    private delegate Step? Reader(YamlFields fields, string key, Header header);

    private static readonly Dictionary<string, bool> OnOff = new() { ["on"] = true, ["off"] = false };

    private static readonly Dictionary<string, Reader> Kinds = new(StringComparer.Ordinal)
    {
        ["instruct"] = Instruct,
        ["confirm"] = (fields, key, header) => header.On(new Step.Confirm(fields.Text(key) ?? "") { Name = header.Name }),
        ["check"] = Inside(CheckReader.Read),
        ["move"] = Inside(Move),
        ["read"] = Inside(Read),
        ["evaluate"] = Inside(Evaluate),
        ["change"] = Inside(Change),
        ["wait"] = Inside((fields, header) => header.On(new Step.Wait(fields.Text("text") ?? "", fields.Number("seconds", 1, 864_000)) { Name = header.Name })),
        ["repeat"] = Inside(Repeat),
        ["ladder"] = Inside(Ladder),
        ["power"] = Inside((fields, header) => header.On(new Step.Power(fields.Word("drives", OnOff, false, required: true), fields.Text("text") ?? "") { Name = header.Name })),
        ["set"] = Inside(Set),
    };

    public static ImmutableArray<Step> Steps(YamlFields fields)
    {
        var steps = ImmutableArray.CreateBuilder<Step>();
        foreach (var node in fields.List("steps", required: true))
            if (fields.Fields(node, "each step") is { } entry && Step(entry) is { } step) steps.Add(step);
        return steps.ToImmutable();
    }

    private static Step? Step(YamlFields entry)
    {
        var kinds = Kinds.Keys.Where(entry.Has).ToArray();
        var name = entry.Text("name", required: false);
        if (name is not null && !ProcedureReader.IsName(name))
            entry.Report(entry.Optional("name")!, $"'name' is '{PlainText.Of(name)}'", "Use lower-case letters, digits and hyphens, such as clamp-blocks");
        var when = ConditionReader.Read(entry);
        entry.Done();
        if (kinds.Length != 1)
        {
            var what = kinds.Length == 0 ? "this step has no kind" : $"this step has several kinds: {string.Join(", ", kinds)}";
            entry.Report(entry.Node, what, "Give each step exactly one of: " + string.Join(", ", Kinds.Keys));
            return null;
        }

        // A step without a name is called after its kind and its line: unique, and it stays the same while the file does.
        var line = entry.Node.Line.ToString(System.Globalization.CultureInfo.InvariantCulture);
        return Kinds[kinds[0]](entry, kinds[0], new Header(name ?? $"{kinds[0]}-{line}", when, (entry.Node.Line, entry.Node.Column)));
    }

    private static Step.Change Change(YamlFields fields, Header header)
    {
        var (of, setting, data) = (fields.Text("of", required: false), fields.Text("setting", required: false), fields.Text("data", required: false));
        var with = TermReader.Texts(fields, "with");
        if (setting is not null && !ToldSetting.Names.Contains(setting))
            fields.Report(fields.Optional("setting")!, $"'{PlainText.Of(setting)}' is no setting that can be told here", "Use " + string.Join(", ", ToldSetting.Names) + ", or leave it out: the finding proposes its own");
        return header.On(new Step.Change(fields.Text("text") ?? "", of, fields.Text("as") ?? "") { Name = header.Name, Setting = setting, Data = data is null ? null : new StepData(data, with) });
    }

    private static Reader Inside(Func<YamlFields, Header, Step?> read) => (fields, key, header) =>
    {
        if (fields.Fields(key, $"'{key}'") is not { } inner) return null;
        var step = read(inner, header);
        inner.Done();
        return step;
    };

    // Mostly a text; with data for the machine, or with a drawing, a mapping.
    private static Step.Instruct? Instruct(YamlFields fields, string key, Header header)
    {
        if (fields.Optional(key) is not YamlNode.Mapping) return header.On(new Step.Instruct(fields.Text(key) ?? "") { Name = header.Name });
        if (fields.Fields(key, $"'{key}'") is not { } inner) return null;
        var (text, data, with) = (inner.Text("text") ?? "", inner.Text("data", required: false), TermReader.Texts(inner, "with"));
        var drawing = DrawingReader.Read(inner);
        inner.Done();
        if (drawing is not null && StepDrawing.LinesOf(text) is var lines and > StepDrawing.MostLines)
            inner.Report(inner.Node, string.Create(CultureInfo.InvariantCulture, $"the text beside the drawing takes {lines} lines"), string.Create(CultureInfo.InvariantCulture, $"Say it in at most {StepDrawing.MostLines} lines of {StepDrawing.LineWidth} characters, or make two steps of it"));
        if (data is not null && drawing is not null) inner.Report(inner.Node, "a step has data or a drawing, not both", "Make two steps of it");
        return header.On(new Step.Instruct(text) { Name = header.Name, Data = data is null ? null : new StepData(data, with), Drawing = drawing });
    }

    private static Step.MoveMachine Move(YamlFields fields, Header header)
    {
        var moves = fields.List("moves", required: true)
            .Select(node => fields.Fields(node, "each entry of 'moves'")).OfType<YamlFields>()
            .Select(MovePlan).OfType<MovePlan>();
        return header.On(new Step.MoveMachine(fields.Text("text") ?? "", [.. moves]) { Name = header.Name });
    }

    private static Dictionary<string, MoveKind?> HomeWords { get; } = new(StringComparer.Ordinal) { ["yes"] = MoveKind.Home, ["watched"] = MoveKind.WatchedHome, ["no"] = null };

    private static MovePlan? MovePlan(YamlFields fields)
    {
        var axis = TermReader.Axis(fields, "axis");
        var (by, to, fraction) = (TermReader.Read(fields, "by", -2000, 2000), TermReader.Read(fields, "to", -20_000, 20_000), TermReader.Read(fields, "toFraction", 0, 1));
        var home = fields.Word("home", HomeWords, null);
        var feed = TermReader.Read(fields, "feed", 1, 50_000);
        fields.Done();
        var given = new[] { by, to, fraction }.Count(term => term is not null) + (home is null ? 0 : 1);
        if (given != 1) fields.Report(fields.Node, "a move needs exactly one of by, to, toFraction, home", "Write for example 'by: 1' or 'home: yes'");
        else if (home is null && (axis is null || feed is null)) fields.Report(fields.Node, "a move needs 'axis' and 'feed'", "Write 'axis: X' (or chosen) and 'feed: 200' in mm/min");
        else if (home is { } seeking) return new MovePlan(axis, seeking, null, new Term(1, null));
        else if (by is not null) return new MovePlan(axis, MoveKind.By, by, feed!);
        else return to is not null ? new MovePlan(axis, MoveKind.To, to, feed!) : new MovePlan(axis, MoveKind.ToFraction, fraction, feed!);
        return null;
    }

    // A finger's breadth: what is taken where a step names a surface and no clearance.
    private const double UsualClearanceMm = 20;

    private static Dictionary<string, Commission.Core.Instruments.InstrumentKind?> Instruments { get; } =
        InstrumentCatalogue.Kinds.ToDictionary(word => word.Key, word => (Commission.Core.Instruments.InstrumentKind?)word.Value, StringComparer.Ordinal);

    private static Step.Read? Read(YamlFields fields, Header header)
    {
        var grid = fields.Fields("grid", "'grid'", required: true) is { } inner ? GridReader.Read(inner) : null;
        var ask = fields.Text("ask") ?? "";
        var group = fields.Text("group", required: false) ?? header.Name;
        var column = fields.Text("column", required: false);
        var unit = fields.Text("unit", required: false) ?? "mm";
        var given = TermReader.Texts(fields, "given");
        var with = fields.Word("with", Instruments, null);
        var (surface, clearance) = (fields.Number("surface", -1000, 1000), fields.Number("clearance", 0, 1000));
        return grid is null ? null : header.On(new Step.Read
        {
            Name = header.Name, Grid = grid, Ask = ask, Group = group, Column = column ?? GridPlan.ReadingColumn(grid), Unit = unit, Given = given, With = with,
            Above = surface is { } below ? new SurfaceBelow(below, clearance ?? UsualClearanceMm) : null,
        });
    }

    private static Step.Evaluate Evaluate(YamlFields fields, Header header) => header.On(new Step.Evaluate
    {
        Name = header.Name,
        Kind = fields.Text("kind") ?? "",
        Groups = fields.Texts("readings"),
        Row = TermReader.Texts(fields, "row"),
        Options = TermReader.Texts(fields, "options"),
        Axis = TermReader.Axis(fields, "axis"),
        Place = fields.Text("place", required: false),
        Limit = Limit(fields),
    });

    private static Characteristics.Tolerance? Limit(YamlFields fields) => fields.Text("tolerance", required: false) is { } typed
        ? Characteristics.ToleranceText.Parse(typed).Match(
            limit => (Characteristics.Tolerance?)(limit with { From = Characteristics.LimitFrom.Procedure }),
            problems =>
            {
                foreach (var problem in problems) fields.Report(fields.Optional("tolerance")!, problem.What, problem.Remedy);
                return null;
            })
        : null;

    private static Step.Repeat? Repeat(YamlFields fields, Header header)
    {
        var count = fields.Whole("count", 1, 50);
        var axes = fields.Texts("axes");
        var places = fields.Texts("places");
        var forces = fields.Numbers("forces", -1000, 1000);
        var heights = fields.Numbers("heights", -1000, 1000);
        var steps = Steps(fields);
        foreach (var axis in axes.Where(axis => !MachineWords.Axes.ContainsKey(axis)))
            fields.Report(fields.Optional("axes")!, $"'{PlainText.Of(axis)}' is no axis", "Use X, Y or Z");
        var given = (count is null ? 0 : 1) + (axes.IsEmpty ? 0 : 1) + (places.IsEmpty ? 0 : 1) + (forces.IsEmpty ? 0 : 1) + (heights.IsEmpty ? 0 : 1);
        if (given != 1)
        {
            fields.Report(fields.Node, "'repeat' needs exactly one of count, axes, places, forces, heights", "Write for example 'count: 10' or 'axes: [X, Y, Z]'");
            return null;
        }

        Rounds rounds = count is { } times ? new Rounds.Count(times)
            : !axes.IsEmpty ? new Rounds.OverAxes([.. axes.Where(MachineWords.Axes.ContainsKey).Select(axis => MachineWords.Axes[axis])])
            : !places.IsEmpty ? new Rounds.OverPlaces([.. places.Select(place => PlainText.Of(place.Replace('/', ' ')))])
            : !forces.IsEmpty ? new Rounds.OverForces(forces)
            : new Rounds.OverHeights(heights);
        return header.On(new Step.Repeat(rounds, steps) { Name = header.Name });
    }

    private static Step.Ladder? Ladder(YamlFields fields, Header header)
    {
        var start = TermReader.Read(fields, "start", 1e-6, 1e9, required: true);
        var factor = fields.Number("factor", 0.1, 10, required: true);
        var end = TermReader.Read(fields, "end", 1e-6, 1e9, required: true);
        if (factor is { } value && Math.Abs(value - 1) < 0.01)
            fields.Report(fields.Optional("factor")!, "'factor' is too near 1", "Use for example 1.15 to rise or 0.87 to fall");
        var ladder = new Step.Ladder
        {
            Name = header.Name, Start = start ?? new Term(1, null), Factor = factor ?? 2, End = end ?? new Term(1, null),
            Unit = fields.Text("unit") ?? "", Column = fields.Text("column", required: false), Verdict = fields.Text("verdict") ?? "",
            Steps = Steps(fields),
        };
        return start is null || end is null || factor is null ? null : header.On(ladder);
    }

    private static Step.Set Set(YamlFields fields, Header header)
    {
        var fact = fields.Text("fact") ?? "";
        if (fact.Length > 0 && !MachineFacts.All.ContainsKey(fact))
            fields.Report(fields.Optional("fact")!, $"'{PlainText.Of(fact)}' is no fact of a machine", "Use one of: " + string.Join(", ", MachineFacts.All.Keys) + Spelling.DidYouMean(fact, MachineFacts.All.Keys));
        var axis = TermReader.Axis(fields, "axis");
        if (axis is null && MachineFacts.All.TryGetValue(fact, out var known) && known.OfAxis)
            fields.Report(fields.Node, $"'{fact}' is a fact of an axis and no axis is named", "Add 'axis: X', or 'axis: chosen' inside a repeat over axes");
        return header.On(new Step.Set(fact, axis, fields.Text("ask") ?? "") { Name = header.Name });
    }

    /// <summary>What every step has.</summary>
    internal sealed record Header(string Name, ImmutableArray<Condition> When, (long Line, long Column) At)
    {
        public T On<T>(T step)
            where T : Step => step with { When = When, At = At };
    }
}
