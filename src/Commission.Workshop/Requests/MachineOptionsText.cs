using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.Machines;
using Commission.Core.Quantities;

namespace Commission.Workshop.Requests;

/// <summary>The short options of <c>machine new</c>, made into a description. Everything but the travel may be missing.</summary>
/// <param name="typed">What was typed, by the names of the options.</param>
/// <param name="units">Unit the owner works in, kept with the machine: a number without one is in it where a question was answered in it.</param>
/// <param name="asked">Whether the numbers were asked for, and not given under options that name their unit.</param>
public sealed class MachineOptionsText(IReadOnlyDictionary<string, string> typed, LengthUnit units = LengthUnit.Millimetre, bool asked = false)
{
    // Of everything but the travel it is a legal answer, and the same as none.
    private const string Unknown = "unknown";

    private const string PerInch = "steps-per-inch", PerMm = "steps-per-mm", Travel = "travel-mm";

    private readonly List<Problem> problems = [];

    /// <summary>The description.</summary>
    /// <param name="name">The machine's name.</param>
    public Outcome<Machine> Read(string name)
    {
        var clean = Words.Clean(name).Trim();
        if (clean.Length is 0 or > 40)
            Refuse("a machine needs a name of 1 to 40 characters", "Give it after machine new");
        if (!typed.ContainsKey(Travel))
            Refuse("--travel-mm is missing", "Give the travel of X, Y and Z, for example --travel-mm 420,580,90");
        var travel = Three(Travel);
        var inches = Three(PerInch);
        var steps = Three(PerMm) ?? (inches is { } all ? [.. all.Select(one => Math.Round(one / Inch.Mm, 9))] : null);
        if (inches is not null && Told(PerMm) is not null)
            Refuse($"--{PerMm} and --{PerInch} both tell the ratio", "Give the one that the controller holds");
        var lead = Three("lead-mm");
        var grade = Grade();
        var switches = Word("switches", Switches.Unknown, ("none", Switches.None), ("home", Switches.Home), ("both-ends", Switches.BothEnds));
        var work = Word("class", WorkClass.Unknown, ("wood", WorkClass.Wood), ("plastics", WorkClass.Plastics), ("aluminium", WorkClass.Aluminium));
        AxisDescription Axis(int at) => new()
        {
            Drive = lead is null ? DriveKind.Unknown : DriveKind.Screw,
            TravelPerTurnMm = lead?[at],
            Grade = grade,
            StepsPerMm = steps?[at],
            Setting = inches is not null ? RatioSetting.StepsPerInch : steps is null ? RatioSetting.Unknown : RatioSetting.StepsPerMm,
            Switches = switches,
        };
        return problems.Count > 0
            ? new Outcome<Machine>.Bad([.. problems])
            : new Machine { Name = clean, Units = units, TravelMm = travel!.Value, Class = work, X = Axis(0), Y = Axis(1), Z = Axis(2) };
    }

    private ImmutableArray<double>? Three(string option)
    {
        if (Told(option) is not { } text)
            return null;
        var numbers = Parts(text).Select(part => Positive(option, part)).ToList();
        switch (numbers)
        {
            case [{ } all]:
                return [all, all, all];
            case [{ } x, { } y, { } z]:
                return [x, y, z];
            default:
                if (numbers.TrueForAll(n => n is not null))
                    Refuse($"--{option} {Words.Clean(text)} names {numbers.Count} numbers", "Give one for all axes, or three with a comma between and a decimal point inside");
                return null;
        }
    }

    // A blank parts numbers too, but not the parts of one: 16 1/2, 22 3/4 in.
    private static string[] Parts(string text) =>
        text.Split(text.Contains('/', StringComparison.Ordinal) || text.Any(char.IsAsciiLetter) ? [',', ';'] : [',', ';', ' '], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);

    private double? Positive(string option, string text)
    {
        var ratio = option is PerMm or PerInch;
        switch (TypedNumber.Read(text, ratio ? "1" : asked && units == LengthUnit.Inch ? "in" : "mm"))
        {
            case NumberReading.Clear { Number: var number } when number.Value > 0:
                // To a millionth of a micrometre: 16 1/2 in are 419.1 mm and stand so in the description.
                return Math.Round(number.In(ratio ? "1" : "mm"), 9);
            case NumberReading.NotANumber bad:
                Refuse($"--{option}: {bad.Problem.What}", bad.Problem.Remedy);
                return null;
            default:
                Refuse($"--{option} {Words.Clean(text)} is not above zero", "Give positive numbers");
                return null;
        }
    }

    private int? Grade()
    {
        if (Told("screw-grade") is not { } text)
            return null;
        if (int.TryParse(text.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out var grade) && ScrewGrades.All.Contains(grade))
            return grade;
        Refuse($"--screw-grade {Words.Clean(text)} is not a grade", "Give one of " + string.Join(", ", ScrewGrades.All));
        return null;
    }

    private string? Told(string option) => typed.TryGetValue(option, out var text) && (option == Travel || text.Trim() != Unknown) ? text : null;

    private T Word<T>(string option, T missing, params ReadOnlySpan<(string Word, T Value)> words)
    {
        if (Told(option) is not { } text)
            return missing;
        foreach (var (word, value) in words)
        {
            if (word == text.Trim())
                return value;
        }

        var known = string.Join(", ", words.ToArray().Select(w => w.Word));
        Refuse($"--{option} {Words.Clean(text)} is not known", "Give one of " + known);
        return missing;
    }

    private void Refuse(string what, string remedy) => problems.Add(new Problem(what, remedy));
}
