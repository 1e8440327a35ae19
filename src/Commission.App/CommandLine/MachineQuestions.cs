using Commission.Core.Machines;

namespace Commission.App.CommandLine;

/// <summary>Asks for what the short options would have told, one line each; an empty line means "not known".</summary>
internal static class MachineQuestions
{
    private const string PerMm = "steps-per-mm", PerInch = "steps-per-inch";

    private static readonly (string Name, string Kind, string Question)[] Millimetres =
    [
        ("travel-mm", "text", "how far do X, Y and Z travel, in mm, as in 420,580,90?"),
        (PerMm, "text", "how many steps for one mm does the controller hold, as in 320 or 320,320,400? (empty: not known)"),
        ("lead-mm", "text", "how far does one turn of each screw move its axis, in mm? (empty: not known, or no screws)"),
        ("screw-grade", "choose", "which grade are the screws: 0, 1, 3, 5, 7, 9 or 10? (empty: not known)"),
        ("switches", "choose", "which switches does each axis have: none, home or both-ends? (empty: not known)"),
        ("class", "choose", "what will you mostly cut: wood, plastics or aluminium? (empty: not decided)"),
    ];

    // The names of the answers are those of the options; the numbers are inches.
    private static readonly (string Name, string Kind, string Question)[] Inches =
    [
        ("travel-mm", "text", "how far do X, Y and Z travel, in inches, as in 16.5,22 3/4,3 1/2?"),
        (PerInch, "text", "how many steps for one inch does the controller hold, as in 8128? (empty: it counts by the mm, or not known)"),
        Millimetres[1],
        ("lead-mm", "text", "how far does one turn of each screw move its axis, in inches, as in 1/5 or 0.2? (empty: not known, or no screws)"),
        .. Millimetres[3..],
    ];

    /// <summary>The answers, by the names of the options.</summary>
    public static Dictionary<string, string> Ask(Surroundings here, LengthUnit units)
    {
        var answers = new Dictionary<string, string>();
        foreach (var (name, kind, question) in units == LengthUnit.Inch ? Inches : Millimetres)
        {
            if (name == PerMm && answers.ContainsKey(PerInch))
                continue;
            here.Out.WriteLine($"ask {kind} {name}: {question}");
            if (here.In.ReadLine() is not { } line)
                break;
            if (line.Trim() is { Length: > 0 } told && told is not "unknown")
                answers[name] = told;
        }

        return answers;
    }
}
