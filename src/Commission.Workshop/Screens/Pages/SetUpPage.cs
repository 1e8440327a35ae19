using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Quantities;
using Commission.Workshop.Screens.Keys;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>A question of the set-up.</summary>
/// <param name="Number">Which of the seven questions it belongs to.</param>
/// <param name="Text">The question.</param>
/// <param name="About">Why it is asked and where the answer stands.</param>
/// <param name="Unit">Unit of a number as it is kept; null for words and names. How it is typed is told by the machine: see <see cref="SetUpQuestion.TypedIn"/>.</param>
/// <param name="Words">Answers to choose from; empty where it is typed.</param>
/// <param name="Take">The machine with the answer; null where the answer cannot be. An empty answer is: I do not know.</param>
public sealed record SetUpQuestion(
    int Number, string Text, string About, string? Unit, ImmutableArray<(string Word, string Meaning)> Words, Func<Machine, string, Machine?> Take)
{
    /// <summary>Whether it must be answered: name and travel only.</summary>
    public bool Must { get; init; }

    /// <summary>Whether the machine's answers so far make it a question at all.</summary>
    public Func<Machine, bool> Asked { get; init; } = _ => true;

    /// <summary>What helps with the answer on a machine as it is described so far; where not told, what it says of itself.</summary>
    public Func<Machine, string>? Helped { get; init; }

    /// <summary>The axis it speaks of; null where it speaks of none, or of more than one.</summary>
    public AxisName? Axis { get; init; }

    /// <summary>Unit in which a number is typed: inches for an owner who works in them, steps per inch where the controller counts so; empty for words.</summary>
    public string TypedIn(Machine machine) => Unit switch
    {
        "mm" => FactUnits.Length(machine).Symbol,
        "steps/mm" => machine[Axis ?? AxisName.X].Setting == RatioSetting.StepsPerInch ? "steps/in" : Unit,
        _ => Unit ?? "",
    };
}

/// <summary>Describes a machine, one question at a time; "I do not know" is an answer to all but name and travel.</summary>
public sealed class SetUpPage(Desk desk) : Page(desk)
{
    /// <summary>Number of questions; some have a field for each axis.</summary>
    public const int Questions = 7;

    private readonly Stack<(int Index, Machine Before, string Typed, int Chosen)> _back = [];
    private Machine _machine = new() { Name = "", TravelMm = [0, 0, 0], Units = desk.Means.Units ?? LengthUnit.Millimetre };
    private int _at;
    private int _chosen;
    private string _typed = "";
    private CommaChoice? _comma;

    // What stands in the cell was not taken: the next character begins anew, Backspace edits it.
    private bool _refused;
    private string? _doubted;

    // Something was typed into this cell, or taken out of it.
    private bool _backHeld;

    /// <inheritdoc/>
    public override string Called => "set-up";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
        ["Only name and travel are needed now. What you do not know stays empty and is asked again on the day a result depends on it."];

    /// <summary>All questions in their order.</summary>
    public static ImmutableArray<SetUpQuestion> All { get; } =
    [
        new(1, "What is the machine called?", "A name of your own. It stands in every frame and in the log.", null, [], (machine, text) => text.Length > 0 ? machine with { Name = text } : null) { Must = true },
        .. Enum.GetValues<AxisName>().Select(axis => new SetUpQuestion(
            2, $"How far does {axis} travel?", Travels[axis], "mm", [], (machine, text) => Number(text, "mm", FactUnits.Length(machine).Symbol) is > 0 and < 100_000 and var mm
                ? (InInches(text) ? machine with { Units = LengthUnit.Inch } : machine) with { TravelMm = machine.TravelMm.SetItem((int)axis, mm) } : null) { Must = true }),
        Drive("What turns the motors' turns into travel on X and Y?", "Look behind the covers. Z comes next.", AxisName.X, AxisName.Y),
        Drive("What turns the motor's turns into travel on Z?", "Mostly a screw, also where X and Y have belts.", AxisName.Z),
        .. Enum.GetValues<AxisName>().Select(axis => AxisNumber(4, axis, "travelPerTurnMm", $"How far does {axis} go in one turn of its screw, pulley or pinion?", "", "mm") with { Helped = machine => Turns[machine[axis].Drive] + " A wrong one shows itself later and is found with a rule." }),
        Grade("X and Y", AxisName.X, AxisName.Y),
        Grade("Z", AxisName.Z),
        new(6, "Does the controller count steps per mm or steps per inch?", "Its own settings say so: about 25 times as many steps go into an inch.", null,
            [("steps-per-mm", "steps for one millimetre; most do, whatever you work in"), ("steps-per-inch", "steps for one inch"), ("unknown", "I do not know")], Counted) { Asked = machine => machine.Units == LengthUnit.Inch },
        .. Enum.GetValues<AxisName>().Select(axis => AxisNumber(6, axis, "stepsPerMm", $"How many steps does the controller count for one {{unit}} of {axis} now?", "From the controller's settings. Nothing is written to it by this.", "steps/mm")),
        new(7, "What shall the machine make?", "It sets the limits against which results are judged; it can be changed at any time.", null,
            [("wood", "signs and furniture in wood and fibreboard"), ("plastics", "plastics, and joints that must fit"), ("aluminium", "light work in aluminium"), ("unknown", "I do not know yet")],
            (machine, word) => Fact(machine, "class", AxisName.X, word)),
    ];

    private static SetUpQuestion Drive(string text, string about, params ImmutableArray<AxisName> axes) => new(3, text, about, null,
        [("screw", "a threaded rod, ball or trapezoidal"), ("belt", "a toothed belt and pulley"), ("rack", "a toothed bar and pinion"), ("unknown", "I do not know")], (machine, word) => Facts(machine, "drive", axes, word));

    // A belt and a rack have no grade.
    private static SetUpQuestion Grade(string of, params ImmutableArray<AxisName> axes) => new(
        5, $"What grade is the screw of {of}?", "On its papers as a number, or as C and a number. Without papers it is not known, and that is usual.", null,
        [("unknown", "I do not know, or no papers"), ("10", "rolled, the ordinary one"), ("7", "rolled, better"), ("5", "ground"), ("3", "ground, measured")], (machine, word) => Facts(machine, "grade", axes, word))
    { Asked = machine => machine[axes[0]].Drive is not (DriveKind.Belt or DriveKind.Rack) };

    private static ImmutableDictionary<DriveKind, string> Turns => new Dictionary<DriveKind, string>
    {
        [DriveKind.Screw] = "For a screw: the lead, often on its papers.",
        [DriveKind.Belt] = "For a belt: its pitch times the teeth of the pulley, as 2 mm times 20 teeth: 40 mm. The pitch is often printed on the belt.",
        [DriveKind.Rack] = "For a rack: the pitch of its teeth times those of the pinion. Where the module is told, the pitch is the module times 3.1416.",
        [DriveKind.Unknown] = "For a screw: the lead, often on its papers. For a belt its pitch times the teeth of the pulley, for a rack that of its teeth times those of the pinion.",
    }.ToImmutableDictionary();

    private static ImmutableDictionary<AxisName, string> Travels => new Dictionary<AxisName, string>
    {
        [AxisName.X] = "X is left and right. From end to end, as far as it may go; a tape is good enough. Do you work in inches? Type the unit with it, as in 16 1/2 in: everything is asked in inches then.",
        [AxisName.Y] = "Y is away from you and towards you. From end to end; a tape is good enough.",
        [AxisName.Z] = "Z is up and down. From end to end; a tape is good enough.",
    }.ToImmutableDictionary();

    private SetUpQuestion Now => All[_at];

    /// <inheritdoc/>
    public override KeyScene Scene => base.Scene with { TextField = Now.Words.IsEmpty, Places = "" };

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => _comma is { } two ? two.On(Asked(), _typed) : Asked();

    private Sheet Asked() => QuestionSheet.Of(new QuestionView
    {
        Path = $"{(_machine.Name.Length > 0 ? _machine.Name : "Commission")} / set-up",
        Right = string.Create(CultureInfo.InvariantCulture, $"question {Now.Number} of {Questions}"),
        Text = Now.Text.Replace("{unit}", Now.TypedIn(_machine) == "steps/in" ? "inch" : "mm", StringComparison.Ordinal),
        About = [Now.Helped?.Invoke(_machine) ?? Now.About],
        Typed = Now.Words.IsEmpty ? _typed : null,
        Unit = Now.TypedIn(_machine),
        Choices = Now.Words,
        Chosen = _chosen,
        Live = Desk.Live,
        Step = (Now.Words.IsEmpty ? Now.Must ? "Type it. Enter goes on." : "Type it, or leave it empty: I do not know. Enter goes on." : "Up and Down choose, Enter goes on.", "Nothing is powered, moved or written to a controller by that."),
        Keys = [new("Enter", "go on", "accept"), new("Esc", "back", "away"), new("F1", "help", "help"), new("F2", "card", "card")],
    });

    /// <inheritdoc/>
    public override void Type(char character) => (_typed, _comma, _backHeld, _refused) = ((_refused ? "" : _typed) + character, null, true, false);

    // In an empty cell one question back, as in the cells of a reading; a key held down goes no further than the cell.
    /// <inheritdoc/>
    public override void TakeBack()
    {
        (_comma, _refused) = (null, false);
        if (_typed.Length > 0)
            (_typed, _backHeld) = (_typed[..^1], true);
        else if (!_backHeld && _back.TryPop(out var before))
            (_at, _machine, _typed, _chosen) = before;
    }

    /// <inheritdoc/>
    public override void Choose(int by, bool sideways)
    {
        if (sideways && _comma is { } two)
        {
            (_typed, _refused) = (two.Chosen(by), true);
            Desk.Say(two.Words(by));
        }

        _chosen = Now.Words.IsEmpty ? 0 : Math.Clamp(_chosen + by, 0, Now.Words.Length - 1);
    }

    /// <inheritdoc/>
    public override void FollowNext()
    {
        var answer = Now.Words.IsEmpty ? _typed.Trim() : Now.Words[_chosen].Word;
        if (Now.Unit is not null && CommaChoice.Of(answer, Now.TypedIn(_machine)) is { } comma)
        {
            Desk.Say(_comma == comma ? comma.Neither : comma.Question);
            (_comma, _refused) = (comma, true);
            return;
        }

        if (Now.Unit is not null && TypedEntry.PowerOfTen(answer) is { } power)
        {
            _refused = true;
            Desk.Say([power]);
            return;
        }

        if (Now.Take(_machine, answer) is not { } after)
        {
            _refused = true;
            if (Now.Unit is { } kept && Number(answer, kept, Now.TypedIn(_machine)) is <= 0)
            {
                Desk.Say($"{answer} {Now.TypedIn(_machine)} cannot be: more than 0 is wanted{(Now.Must ? "" : ", or nothing where it is not known")}.");
                return;
            }

            Desk.Say(Now.Must && answer.Length == 0 ? "This one is needed: everything else may stay unknown." : $"{answer} is no answer to this question. A number, comma or point{(Now.TypedIn(_machine) == "in" ? ", or a fraction as 3 1/8" : "")}{(Now.Must ? "" : ", or nothing")}.");
            return;
        }

        // What contradicts the answers before is asked about once.
        if (FactClash.New(_machine, after) is { } clash && _doubted != answer)
        {
            (_doubted, _refused) = (answer, true);
            Desk.Say($"{after.Units.Shown().Told(clash.Reason)}. A slip? Enter once more keeps it; type over it, or Backspace edits it.");
            return;
        }

        _doubted = null;
        _back.Push((_at, _machine, _typed, _chosen));
        (_machine, _typed, _comma, _refused, _chosen, _backHeld) = (after, "", null, false, 0, false);
        var next = _at + 1;
        while (next < All.Length && !All[next].Asked(after))
            next++;
        if (next < All.Length)
            _at = next;
        else
            Finish();
    }

    /// <inheritdoc/>
    public override void Away()
    {
        (_comma, _refused, _backHeld) = (null, false, false);
        if (_typed.Length > 0)
        {
            _typed = "";
        }
        else if (_back.TryPop(out var before))
        {
            (_at, _machine, _typed, _chosen) = before;
        }
        else
        {
            Desk.ToBench();
        }
    }

    private void Finish()
    {
        if (Desk.Ledger.Machines.ContainsKey(_machine.Name))
        {
            Desk.Say($"There is a machine called {_machine.Name} already. Esc goes back to the name.");
            return;
        }

        if (!Desk.Write(new EntryBody.MachineDescribed(_machine, Retired: false) { Machine = _machine.Name, Operator = Desk.Operator }))
            return;
        Desk.Use(_machine.Name);
        Desk.ToBench();
    }

    private static SetUpQuestion AxisNumber(int number, AxisName axis, string fact, string text, string about, string unit) =>
        new(number, text, about, unit, [], (machine, typed) => typed.Length == 0 ? machine
            : Number(typed, unit, FactUnits.Of(MachineFacts.All[fact], machine, axis)?.Symbol) is > 0 and var value ? Fact(machine, fact, axis, value.ToString("R", CultureInfo.InvariantCulture)) : null)
        { Axis = axis };

    // Who types the unit of an inch works in inches.
    private static bool InInches(string text) => TypedNumber.Read(text, "mm") is NumberReading.Clear { Number.Unit.Symbol: "in" };

    private static Machine Counted(Machine machine, string word) => Enum.GetValues<AxisName>().Aggregate(machine, (now, axis) => MachineFacts.All["setting"].Set(now, axis, word));

    private static Machine? Facts(Machine machine, string fact, ImmutableArray<AxisName> axes, string word) =>
        axes.Aggregate((Machine?)machine, (now, axis) => now is null ? null : Fact(now, fact, axis, word));

    private static Machine? Fact(Machine machine, string fact, AxisName axis, string word) => MachineFacts.All[fact].Set(machine, axis, word);

    private static double? Number(string text, string unit, string? typedIn) => TypedEntry.Number(text, unit, typedIn).Match(value => (double?)value, _ => null);
}
