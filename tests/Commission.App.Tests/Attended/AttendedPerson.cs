using System.Collections.Concurrent;
using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using Commission.Core.Procedures;
using Commission.Practice.Bench;
using Commission.Practice.Controller;

namespace Commission.App.Tests.Attended;

/// <summary>
/// The simulated operator at the plain prompts: confirms each move by its words, and reads instruments on the practice machine, which
/// stands where the practice controller was really moved to, from the side it really came from.
/// </summary>
[System.Runtime.Versioning.UnsupportedOSPlatform("windows")]
internal sealed partial class AttendedPerson(PracticeBench bench, Board port, Procedure procedure, AxisName? chosen) : TextWriter
{
    private readonly BlockingCollection<string?> typed = [];
    private readonly StringBuilder seen = new();
    private readonly Dictionary<string, double> told = new() { ["driver-most-volts"] = 50 };
    private readonly PracticeController board = port.Controller;

    public override Encoding Encoding => Encoding.UTF8;

    /// <summary>Where the answers can be read as from standard input.</summary>
    public TextReader Keyboard => field ??= new Keys(typed);

    /// <summary>Everything that was printed.</summary>
    public string Seen => seen.ToString();

    /// <summary>Number of moves confirmed.</summary>
    public int Confirmed { get; private set; }

    /// <summary>Done instead of answering, where it returns true.</summary>
    public Func<string, bool>? Instead { get; init; }

    /// <summary>What is answered when it is asked what happened: nothing touched anything.</summary>
    public string AfterStop { get; set; } = "A";

    public override void Write(char value) => seen.Append(value);

    public override void WriteLine(string? value)
    {
        seen.Append(value).Append('\n');
        if (value?.StartsWith("ask ", StringComparison.Ordinal) == true && Instead?.Invoke(value) != true)
            typed.Add(Answer(value));
    }

    /// <summary>Ends the input.</summary>
    public void HangUp() => typed.Add(null);

    public void Slow() => port.Slow();

    public void WhenMoving(Action what) => port.WhenMoving(what);

    public void Type(string line) => typed.Add(line);

    private string Answer(string prompt)
    {
        var (kind, name) = (prompt.Split(' ')[1], prompt.Split(' ')[2].TrimEnd(':'));
        switch (kind)
        {
            case "motion":
                Confirmed++;
                var token = Token().Match(prompt).Groups[1].Value;
                if (token.StartsWith("set reference ", StringComparison.Ordinal))
                    port.PushToCorner(Enum.Parse<AxisName>(token[^1..]));
                return token;
            case "number":
                return ReadStep(name) is { } read ? Reading(read, prompt) : Within(name);
            case "text":
                return "o";
            case "choose" when prompt.Contains("say what happened", StringComparison.Ordinal):
                return AfterStop;
            default:
                return "yes";
        }
    }

    // A number that keeps the limits of the check that asks for it; what was told before is remembered, for limits that name it.
    private string Within(string name)
    {
        var limits = procedure.AllSteps.OfType<Step.Check>().FirstOrDefault(check => check.Name == name)?.Limits ?? [];
        double? Value(Term term) => term.Number ?? (told.TryGetValue(term.Name!, out var before) ? before * term.Fraction : null);
        double[] tried = [0.1, 1, 24, 500, .. limits.OfType<Limit.Between>().Select(between => (between.Low + between.High) / 2)];
        var value = told[name] = told.TryGetValue(name, out var known) ? known : tried.FirstOrDefault(one => CheckLimits.Keeps(limits, one, Value), 0.1);
        return value.ToString(CultureInfo.InvariantCulture);
    }

    private Step.Read? ReadStep(string name) =>
        procedure.AllSteps.OfType<Step.Read>().FirstOrDefault(step => name.Split('/').Contains(step.Name));

    private string Reading(Step.Read step, string prompt)
    {
        var kind = procedure.AllSteps.OfType<Step.Evaluate>().First(evaluate => evaluate.Groups.Contains(step.Group)).Kind;
        var axis = step.Grid.Axis is { } choice ? choice.Fixed ?? chosen : chosen;
        var at = axis is { } moving ? board.Body.InTravel(moving) : 0;
        var force = Force().Match(prompt) is { Success: true } told ? double.Parse(told.Groups[1].Value, CultureInfo.InvariantCulture) : 0;
        Dictionary<string, double> given = new()
        {
            ["commanded_mm"] = at, ["place_mm"] = Math.Round(at, 2), ["force_n"] = force,
            ["x_mm"] = board.Body.InTravel(AxisName.X), ["y_mm"] = board.Body.InTravel(AxisName.Y),
        };
        Dictionary<string, string> words = new() { ["direction"] = axis is { } sensed && board.Body.LastSense(sensed) < 0 ? "-" : "+" };
        if (Distances().Match(prompt) is { Success: true })
            return "400.0";
        return step.Grid is Grid.Objects ? Block().Match(prompt) is { Success: true } block ? block.Groups[1].Value : "0.00"
            : bench.Read(new Cell(kind, axis, given, words));
    }

    [GeneratedRegex(@"\. (go \S+|go home|unlock|set reference [XYZ])$")]
    private static partial Regex Token();

    [GeneratedRegex(@"with (\d+) N")]
    private static partial Regex Force();

    [GeneratedRegex(@"mark [A-Z] to mark [A-Z]")]
    private static partial Regex Distances();

    [GeneratedRegex(@"blocks? of (\d+) mm")]
    private static partial Regex Block();

    private sealed class Keys(BlockingCollection<string?> typed) : TextReader
    {
        public override string? ReadLine() => typed.Take();
    }
}
