using Commission.App.Plain;
using Commission.Core;
using Commission.Core.Machines;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens;

namespace Commission.App.CommandLine;

/// <summary>Asks for what the short options would have told, one line each; an empty line means "not known". What can hardly be so is asked about before it is kept.</summary>
internal sealed class MachineQuestions(Surroundings here, LengthUnit units)
{
    private const string Travel = "travel-mm", PerMm = "steps-per-mm", PerInch = "steps-per-inch";

    private static readonly (string Name, string Kind, string Question)[] Millimetres =
    [
        (Travel, "text", "How far do X, Y and Z travel, in mm, as in 420,580,90?"),
        (PerMm, "text", "How many steps for one mm does the controller hold, as in 320 or 320,320,400? (empty: not known)"),
        ("lead-mm", "text", "How far does one turn of each screw move its axis, in mm? (empty: not known, or no screws)"),
        ("screw-grade", "choose", "Which grade are the screws: 0, 1, 3, 5, 7, 9 or 10? (empty: not known)"),
        ("switches", "choose", "Which switches does each axis have: none, home or both-ends? (empty: not known)"),
        ("class", "choose", "What will you mostly cut: wood, plastics or aluminium? (empty: not decided)"),
    ];

    // The names of the answers are those of the options; the numbers are inches.
    private static readonly (string Name, string Kind, string Question)[] Inches =
    [
        (Travel, "text", "How far do X, Y and Z travel, in inches, as in 16.5,22 3/4,3 1/2?"),
        (PerInch, "text", "How many steps for one inch does the controller hold, as in 8128? (empty: it counts by the mm, or not known)"),
        Millimetres[1],
        ("lead-mm", "text", "How far does one turn of each screw move its axis, in inches, as in 1/5 or 0.2? (empty: not known, or no screws)"),
        .. Millimetres[3..],
    ];

    private static readonly string[] Help = ["Only the travel is needed now. What you do not know stays empty and is asked again on the day a result depends on it. Three axes are parted by commas, X first; one number is for all three."];

    private readonly PlainQuestion asking = new(() => here.In, here.Out, here.Error);
    private readonly Dictionary<string, string> answers = [];

    /// <summary>The description; null where it was put aside.</summary>
    /// <param name="name">The machine's name.</param>
    public Outcome<Machine>? New(string name)
    {
        var questions = units == LengthUnit.Inch ? Inches : Millimetres;
        var asked = new Stack<int>();
        for (var at = 0; at < questions.Length;)
        {
            var question = questions[at];
            if (question.Name == PerMm && answers.ContainsKey(PerInch))
            {
                at++;
                continue;
            }

            var (by, answer) = asking.Ask(question.Kind, question.Name, question.Question, Help, typed => Wrong(name, question.Name, typed));
            if (by is AnsweredBy.End)
                break;
            if (by is AnsweredBy.Aside || (by is AnsweredBy.Back && asked.Count == 0))
                return null;
            if (by is AnsweredBy.Back)
            {
                at = asked.Pop();
                answers.Remove(questions[at].Name);
            }
            else if (Kept(name, question.Name, answer))
            {
                asked.Push(at++);
            }
        }

        return Described(name, answers);
    }

    private Outcome<Machine> Described(string name, Dictionary<string, string> told) => new MachineOptionsText(told, units, asked: true).Read(name);

    private Problem? Wrong(string name, string option, string typed)
    {
        if (IsNotKnown(typed))
            return option == Travel ? new Problem("this one is needed: everything else may stay unknown", "Type three numbers, or Q puts it aside") : null;
        if (WrittenByPower(typed) is { } power)
            return power;
        return Described(name, new(answers) { [option] = typed }) is Outcome<Machine>.Bad bad ? bad.Problems[0] : null;
    }

    /// <summary>Why a number of a description cannot be taken as it is written: nobody reads a length off a tape in powers of ten.</summary>
    public static Problem? WrittenByPower(string typed) => TypedEntry.PowerOfTen(typed);

    private static bool IsNotKnown(string typed) => typed.Length == 0 || typed == "unknown";

    // Put down where it is kept: asked about where it contradicts what was answered before, or can hardly be.
    private bool Kept(string name, string option, string answer)
    {
        if (IsNotKnown(answer))
            return true;
        var before = answers.Count == 0 ? new Machine { Name = name, TravelMm = [0, 0, 0] } : Described(name, answers).Require();
        var after = Described(name, new(answers) { [option] = answer }).Require();
        if (FactClash.New(before, after) is { } clash && !Doubt.IsKept(asking, option, units.Shown().Told(clash.Reason)))
            return false;
        answers[option] = answer;
        return true;
    }
}
