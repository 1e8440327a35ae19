using System.Collections.Immutable;
using System.Diagnostics;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Machines;
using Commission.Core.Plans;
using Commission.Core.Procedures.Aids;
using Commission.Core.Quantities;
using Commission.Core.Readings;

namespace Commission.Core.Procedures;

/// <content>What the run asks for.</content>
public sealed partial record ProcedureRun
{
    /// <summary>Feed of the moves between readings, mm/min: slow enough that a hand sees it coming; the move's own box shows it.</summary>
    public const double MeasuringFeedMmMin = 600;

    private static readonly ImmutableArray<ChoiceOption> YesNo = [new("yes", "it is so"), new("no", "it is not so")];

    /// <summary>What it waits for now.</summary>
    public Need Needs => this switch
    {
        { How: { } how } => new Need.Ended(how, WhyEnded) { Step = "end" },
        { OpenQuestion: { } question } => question with { Reason = Shown(question.Reason) },
        { Position: HazardsNotRead } => new Need.HazardsFirst([.. Procedure.Hazards.Select(hazard => new Hazard(Shown(hazard.What), Shown(hazard.Do)))]) { Step = "hazards" },
        _ => NeedOf(Current!),
    };

    /// <summary>The evaluation that will use the readings of a step, with what is read so far; null where none follows.</summary>
    /// <param name="step">Name of a step that takes readings.</param>
    public Need.Evaluate? Ahead(string step)
    {
        var at = Items.Select(item => item.Name).ToImmutableArray().IndexOf(step);
        return at < 0 || Items[at].Step is not Step.Read read ? null
            : Items.Skip(at + 1).FirstOrDefault(item => item.Step is Step.Evaluate { Row.IsEmpty: true } evaluate && evaluate.Groups.Contains(read.Group) && step.StartsWith(item.Scope.Path, StringComparison.Ordinal) && Applies(item)) is { } item
                ? NeedOf((Step.Evaluate)item.Step, item) : null;
    }

    private Need NeedOf(RunItem item) => item.Step switch
    {
        Step.Instruct step => NeedOf(step, item),
        Step.Confirm step => new Need.Confirm(Filled(step.Text, item)) { Step = item.Name },
        Step.Check check when CheckFound is { } found => new Need.CheckOut(Sheet(check, item), found) { Step = item.Name, Against = Against(check, item) },
        Step.Check check => NeedOf(check, item),
        Step.MoveMachine step => new Need.Motion(Filled(step.Text, item), [.. step.Moves.Select(move => MoveOf(move, item))]) { Step = item.Name, Linked = Setting.Link },
        Step.Read step => NeedOf(step, item),
        Step.Evaluate step => NeedOf(step, item),
        Step.Change step => NeedOf(step, item),
        Step.Wait step => new Need.Wait(Filled(step.Text, item), step.Seconds) { Step = item.Name },
        Step.Ladder step => new Need.Choose(Filled(step.Verdict, item), YesNo, null) { Step = item.Name, IsYesOrNo = true },
        Step.Power step => new Need.Power(step.DrivesOn, Filled(step.Text, item)) { Step = item.Name },
        Step.Set step => NeedOf(step, item),
        _ => throw new UnreachableException(),
    };

    // A few lines are part of the instruction; more than a screen holds are data of their own.
    private const int MostLinesInText = 20;

    private Need.Instruct NeedOf(Step.Instruct step, RunItem item)
    {
        var text = Filled(step.Text, item);
        if (step.Data is not { } asked) return new Need.Instruct(text) { Step = item.Name, Drawing = DrawingOf(step, item) };
        var data = DataOf(asked, item);
        return data is Outcome<ImmutableArray<WorkData>>.Good { Value: var files } && files.Sum(file => file.Lines.Length) <= MostLinesInText
            ? new Need.Instruct(string.Join('\n', [text, .. files.SelectMany(file => file.Lines).Select(Shown)])) { Step = item.Name }
            : new Need.Instruct(text) { Step = item.Name, Data = data };
    }

    // What goes with a change is a few lines: what to move, and by how much.
    private Need.Change NeedOf(Step.Change step, RunItem item)
    {
        var lines = DataOf(item)?.Match(files => files.SelectMany(file => file.Lines).Select(Shown), problems => problems.Select(problem => $"{problem.What}. {problem.Remedy}.")) ?? [];
        return new Need.Change(string.Join('\n', [Filled(step.Text, item), .. lines]), step.Of is { } of ? Value(of, item.Scope)?.Finding : null)
        {
            Step = item.Name, EnteredAs = step.EnteredAs, Told = step.Setting is { } setting ? new ToldSetting(setting, PairAxis is { } axis ? MachineWords.Of(MachineWords.Axes, axis) : null) : null,
        };
    }

    // The axis with two motors, where it is one; else the one the gantry moves along.
    private AxisName? PairAxis => Enum.GetValues<AxisName>().Where(axis => Machine[axis].Motors == 2).ToArray() is [var only] ? only : Machine.GantryAxis;

    // A row keeps its columns: nothing in it is turned into other units.
    private StepDrawing? DrawingOf(Step.Instruct step, RunItem item) =>
        step.Drawing?.With(row => Placeholders.Fill(row, name => item.Scope.Texts.GetValueOrDefault(name)), words => Filled(words, item));

    /// <summary>The data that a step asks for; null where it asks for none.</summary>
    internal Outcome<ImmutableArray<WorkData>>? DataOf(RunItem item) => item.Step switch
    {
        Step.Instruct { Data: { } data } => DataOf(data, item),
        Step.Change { Data: { } data } => DataOf(data, item),
        _ => null,
    };

    private Outcome<ImmutableArray<WorkData>> DataOf(StepData data, RunItem item) =>
        Made(data, item).Then<ImmutableArray<WorkData>>(files => ImmutableArray.CreateRange(files.Select(file => file with { About = Shown(file.About) })));

    private Outcome<ImmutableArray<WorkData>> Made(StepData data, RunItem item) =>
        DataKinds.Find(data.Kind) is not { } kind
            ? new Problem($"'{PlainText.Of(data.Kind)}' is no kind of data", "Check the procedure with 'procedure check'")
            : kind.Make(new DataRequest(Procedure, Machine, Setting,
                name => data.With.GetValueOrDefault(name) is not { } given ? null : YamlFields.TryNumber(given, out var number) ? number : Number(new Term(null, given), item.Scope),
                name => data.With.GetValueOrDefault(name) is not { } given ? null : Value(given, item.Scope) is { } value ? value.Text : given)
            { Axis = item.Scope.Axis });

    // Once it is typed, what it was set against may be seen.
    private string? Against(Step.Check check, RunItem item) => check is { Answer: CheckAnswer.Number { Unit: var unit } } && check.Limits.OfType<Limit.Near>().FirstOrDefault() is { } near
        && (Number(new Term(null, near.To), item.Scope) ?? FirstOf(near.To)) is { } before
        ? Shown($"{(near.IsReading ? "The first reading" : "What was typed before")} is {Scope.Shown(before)} {unit}.") : null;

    private Need NeedOf(Step.Check check, RunItem item) => check.Answer switch
    {
        CheckAnswer.Number number => new Need.Number(Filled(check.Ask, item), number.Unit) { Step = item.Name, TypedIn = TypedIn(number.Unit), Check = Sheet(check, item), Counted = check.Counted },
        CheckAnswer.Line or CheckAnswer.Rectangles => new Need.Line(Filled(check.Ask, item)) { Step = item.Name },
        _ => new Need.Choose(Filled(check.Ask, item), ChoicesOf(check.Answer), null) { Step = item.Name, Check = Sheet(check, item), IsYesOrNo = check.Answer is CheckAnswer.YesNo },
    };

    private static ImmutableArray<ChoiceOption> ChoicesOf(CheckAnswer answer) => answer is CheckAnswer.Word word ? word.Options : YesNo;

    // The limit as a number where the run knows it: names of steps tell nobody anything years later.
    private CheckSheet Sheet(Step.Check check, RunItem item)
    {
        var limit = CheckLimits.Words(check, term => Number(term, item.Scope));
        return new(check.Id, Shown(limit), check.Source, check.Who, Filled(check.IfOut, item), check.MaySkip) { KeptLimit = limit };
    }

    private Need NeedOf(Step.Set set, RunItem item)
    {
        var fact = MachineFacts.All[set.Fact];
        return fact.Words.IsEmpty
            ? new Need.Number(Filled(set.Ask, item), fact.Unit ?? "") { Step = item.Name, TypedIn = TypedIn(fact.Unit ?? "") }
            : new Need.Choose(Filled(set.Ask, item), [.. fact.Words.Select(word => new ChoiceOption(word, word))], fact.Words.Contains("unknown") ? "unknown" : null) { Step = item.Name };
    }

    private Need NeedOf(Step.Read read, RunItem item)
    {
        var next = NextCell;
        var cell = Cells[next];
        var moves = cell.GoTo.Select((position, i) => Towards(cell, position, i) with { Above = read.Above }).ToImmutableArray<Move>();
        var done = Moves.Cell == next ? Moves.Done : 0;
        if (Setting.Link && done < moves.Length)
            return new Need.Motion(ToAnotherPlace(read, cell, item) is { Length: > 0 } away ? away + " Hand out of the way." : HasDial(read) ? "Hand out of the way. The indicator stays where it is." : "Hand and instrument out of the way.", [moves[done]]) { Step = item.Name, Cell = next, Then = done + 1 < moves.Length ? moves[done + 1] : null, Linked = true };
        var first = Setting.Link ? "" : ToAnotherPlace(read, cell, item);
        return new Need.TakeReading($"{first} {Filled(read.Ask, item)}".TrimStart(), cell, next, Cells.Length, read.Unit)
        {
            Step = item.Name,
            First = first,
            Group = read.Group,
            Column = read.Column,
            Again = Readings.Any(reading => reading.Step == item.Name && reading.CellIndex == next),
            Moves = Setting.Link ? [] : moves,
        };
    }

    private bool HasDial(Step.Read read) => read.Grid is Grid.Places && (Setting.Instrument is null or { Kind: InstrumentKind.Indicator });

    // A dial that stands at one place stands in the way to the next.
    private string ToAnotherPlace(Step.Read read, PlanCell cell, RunItem item) =>
        HasDial(read) && Readings.LastOrDefault(reading => reading.Step == item.Name)?.Cell.Place != cell.Place
            ? $"Indicator away first. Set it once {MachineWords.Of(MachineWords.Axes, cell.GoTo[^1].Axis)} stands at the place."
            : "";

    private bool Inches => Machine.Units == LengthUnit.Inch;

    /// <summary>A length as its owner would have typed it: in inches on a machine that is kept in inches.</summary>
    /// <param name="mm">Length, mm.</param>
    public string AsTyped(double mm) => Inches ? (mm / Inch.Mm).ToString("0.####", System.Globalization.CultureInfo.InvariantCulture) : Quantities.ReadingText.Digits("", Math.Round(mm, 4), "mm", Setting.Instrument?.ResolutionMm);

    private string Shown(string text) => InchText.In(text, Inches);

    private string TypedIn(string unit) => (unit, Inches) switch
    {
        ("mm", true) => "in",
        ("mm/min", true) => "in/min",
        _ => unit,
    };

    private string Feed(double mmMin) => Inches
        ? string.Create(CultureInfo.InvariantCulture, $"{mmMin / Inch.Mm:0.#} in/min")
        : string.Create(CultureInfo.InvariantCulture, $"{mmMin:0} mm/min");

    // Where the machine is commanded in inches, what is said is what is typed.
    private string InUnits(double mm) => Machine.Units == LengthUnit.Inch
        ? string.Create(CultureInfo.InvariantCulture, $"{mm / Inch.Mm:F4} in")
        : string.Create(CultureInfo.InvariantCulture, $"{mm:F3} mm");

    // No move is faster than the axis was found to be able to run.
    private double Kept(AxisName axis, double feed) => Setting.GreatestFeeds.TryGetValue(axis, out var most) ? Math.Min(feed, most) : feed;

    private Move.To Towards(PlanCell cell, Position position, int index)
    {
        var word = MachineWords.Of(MachineWords.Axes, position.Axis);
        var last = index == cell.GoTo.Length - 1;
        var side = cell.Approach switch
        {
            Approach.Increasing when last => ", coming from below",
            Approach.Decreasing when last => ", coming from above",
            _ => "",
        };
        return new Move.To(position.Axis, position.Mm, Kept(position.Axis, MeasuringFeedMmMin)) { Words = string.Create(CultureInfo.InvariantCulture, $"{word} to {InUnits(position.Mm)}{side}") };
    }

    private Move MoveOf(MovePlan plan, RunItem item)
    {
        var axis = plan.Axis is { } choice ? choice.Fixed ?? item.Scope.Axis : null;
        if (plan.Kind == MoveKind.Home) return new Move.Home(axis) { Words = axis is { } one ? $"home {one}" : "home all axes, Z first" };
        if (plan.Kind == MoveKind.WatchedHome) return new Move.Home(axis, Watched: true) { Words = "home all axes for the first time, watched, Z first" };
        var name = axis ?? AxisName.X;
        var amount = Number(plan.Amount!, item.Scope) ?? 0;
        var feed = Kept(name, Math.Max(1, Number(plan.Feed, item.Scope) ?? MeasuringFeedMmMin));
        var target = plan.Kind == MoveKind.ToFraction ? Math.Round(amount * Machine.Travel(name), 3) : amount;
        return plan.Kind == MoveKind.By
            ? new Move.By(name, amount, feed) { Words = string.Create(CultureInfo.InvariantCulture, $"{name} by {(amount < 0 ? "-" : "+")}{InUnits(Math.Abs(amount))} at {Feed(feed)}") }
            : new Move.To(name, target, feed) { Words = string.Create(CultureInfo.InvariantCulture, $"{name} to {InUnits(target)} at {Feed(feed)}") };
    }

    private Need.Evaluate NeedOf(Step.Evaluate evaluate, RunItem item)
    {
        var axis = evaluate.Axis is { } choice ? choice.Fixed ?? item.Scope.Axis : null;
        var used = Readings
            .Where(reading => reading.Stands && evaluate.Groups.Contains(reading.Group) && reading.Step.StartsWith(item.Scope.Path, StringComparison.Ordinal))
            .ToImmutableArray();
        var table = evaluate.Row.IsEmpty ? TableOf(used, CharacteristicKinds.Find(evaluate.Kind)) : RowOf(evaluate.Row, item.Scope);
        return new Need.Evaluate(evaluate.Kind, table, Turned(OptionsOf(evaluate, axis, item.Scope), evaluate.Kind, used))
        {
            Step = item.Name, Place = evaluate.Place, Sequences = evaluate.Row.IsEmpty ? [.. used.Select(reading => reading.Sequence)] : [],
        };
    }

    private ReadingTable TableOf(ImmutableArray<TakenReading> used, CharacteristicKind? kind) => KeptReading.Table(Procedure.Id, kind, used.Select(reading => new KeptReading
    {
        Given = reading.Cell.Given,
        Words = reading.Cell.Words,
        Column = reading.Column,
        Typed = reading.Typed,
        Value = reading.Value,
        Excluded = reading.Excluded,
        Number = reading.CellIndex + 1,
        Place = reading.Cell.Place,
    }));

    private ReadingTable RowOf(ImmutableSortedDictionary<string, string> row, Scope scope)
    {
        var numbers = row.Select(pair => (pair.Key, Value: Number(new Term(null, pair.Value), scope)))
            .Where(pair => pair.Value is not null)
            .ToImmutableDictionary(pair => pair.Key, pair => pair.Value!.Value);
        var typed = row.Where(pair => Value(pair.Value, scope) is not null).ToImmutableDictionary(pair => pair.Key, pair => Value(pair.Value, scope)!.Text);
        var only = new ReadingRow { Number = 1, Numbers = numbers, Words = ImmutableDictionary<string, string>.Empty, Typed = typed };
        return new ReadingTable { Source = Procedure.Id, Columns = [.. numbers.Keys.Order(StringComparer.Ordinal)], Rows = [only] };
    }

    private FitOptions OptionsOf(Step.Evaluate evaluate, AxisName? axis, Scope scope)
    {
        var options = new FitOptions { Tolerance = evaluate.Limit };
        if (axis is { } name)
        {
            var described = Machine[name];
            options = options with
            {
                Axis = name,
                StepsPerMm = described.StepsPerMm,
                Setting = described.Setting == RatioSetting.Unknown ? RatioSetting.StepsPerMm : described.Setting,
                SettingDecimals = described.SettingDecimals,
                Drive = described.Drive,
                TravelPerTurnMm = described.TravelPerTurnMm,
                ScrewGrade = described.Grade,
                TravelMm = Machine.Travel(name),
            };
        }

        foreach (var (key, text) in evaluate.Options)
        {
            if (YamlFields.TryNumber(text, out var number) || (Number(new Term(null, text), scope) is { } known && (number = known) == known))
                options = options with { Numbers = options.Numbers.SetItem(key, number) };
            else options = options with { Words = options.Words.SetItem(key, text) };
        }

        return options.At(CharacteristicKinds.Find(evaluate.Kind), evaluate.Place);
    }

    private DialWay Dial => DialWay.Of(Setting.Instrument);

    private static string Digits(double mm) => string.Create(CultureInfo.InvariantCulture, $"{mm:0.##} mm");

    private static FitOptions Turned(FitOptions options, string kind, ImmutableArray<TakenReading> used)
    {
        double[] ways = [.. used.Select(reading => reading.Cell).Where(cell => cell is { Approach: Approach.Decreasing, GoTo.Length: 2 }).Select(cell => Math.Round(cell.GoTo[0].Mm - cell.GoTo[1].Mm, 4))];
        return ways.Length > 0 && CharacteristicKinds.Find(kind)?.Options.Any(option => option.Name == Backlash.TurnsBeyond) == true
            ? options with { Numbers = options.Numbers.SetItem(Backlash.TurnsBeyond, ways.Min()) }
            : options;
    }

    private string Filled(string text, RunItem item) => Shown(Placeholders.Fill(text, name => name switch
    {
        _ when item.Scope.Texts.TryGetValue(name, out var fixedText) => fixedText,
        "travel" when item.Scope.Axis is { } axis => Scope.Shown(Machine.Travel(axis)),
        "lead" when item.Scope.Axis is { } axis => Machine[axis].TravelPerTurnMm is { } lead ? Scope.Shown(lead) : "unknown",
        "stepsPerMm" when item.Scope.Axis is { } axis => Machine[axis].StepsPerMm is { } steps ? Scope.Shown(steps) : "unknown",
        "driveWidth" => Machine.DriveWidthMm is { } width ? Scope.Shown(width) : "unknown",
        "machine" => Machine.Name,
        "press" => Dial.PressMm == 1 ? "0.5 to 1 mm" : Digits(Dial.PressMm),
        "beyond" => Digits(Dial.BeyondMm),
        "room" => Digits(Dial.RoomMm),
        _ => Value(name, item.Scope) is { } value ? value.Number is { } number ? $"{Scope.Shown(number)} {value.Unit}".TrimEnd() : value.Text : null,
    }));
}
