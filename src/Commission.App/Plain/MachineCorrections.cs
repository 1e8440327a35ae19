using System.Collections.Immutable;
using Commission.App.CommandLine;
using Commission.Core;
using Commission.Core.Machines;
using Commission.Core.Quantities;
using Commission.Workshop.Screens.Pages;

namespace Commission.App.Plain;

/// <summary>Corrects the description of a machine by question and answer, one fact at a time, as the screens do.</summary>
internal sealed class MachineCorrections(Surroundings here, LengthUnit shown)
{
    private const string Travel = "travel";

    private readonly PlainQuestion asking = new(() => here.In, here.Out, here.Error);

    private static ImmutableArray<string> Names => [Travel, .. MachineFacts.All.Keys];

    /// <summary>The machine as it is corrected; null where that was put aside.</summary>
    /// <param name="machine">The machine as it is described.</param>
    public Machine? Corrected(Machine machine)
    {
        var before = new Stack<Machine>();
        while (true)
        {
            var (by, answer) = asking.Ask(
                "choose", "fact", $"Which fact is to be corrected? One of: {string.Join(", ", Names)}; empty for no more, and the corrections are kept.", Sentences(machine, shown),
                typed => typed.Length == 0 || Named(typed) is not null ? null : new Problem($"'{PlainText.Of(typed)}' is no answer here", "Answer with one of the words in the question, or with an empty line"));
            if (by is AnsweredBy.Aside || (by is AnsweredBy.Back && before.Count == 0))
                return null;
            if (by is AnsweredBy.Back)
            {
                machine = before.Pop();
                here.Out.WriteLine("taken back: the last correction");
            }
            else if (by is AnsweredBy.End || answer.Length == 0)
            {
                return machine;
            }
            else if (Correct(machine, Named(answer)!) is { } after)
            {
                before.Push(machine);
                machine = after;
            }
        }
    }

    private static string? Named(string typed) => Names.FirstOrDefault(name => PlainWords.Is(name, typed));

    /// <summary>A description, a sentence for each fact.</summary>
    /// <param name="machine">The machine.</param>
    /// <param name="shown">Unit in which lengths are said.</param>
    public static IEnumerable<string> Sentences(Machine machine, LengthUnit shown) =>
    [
        .. Enum.GetValues<AxisName>().Select(axis => Said(machine, Travel, axis, shown)),
        .. MachineFacts.All.Values.SelectMany(fact => (AxisName?[])(fact.OfAxis ? [AxisName.X, AxisName.Y, AxisName.Z] : [null]), (fact, axis) => Said(machine, fact.Name, axis, shown)),
    ];

    // A fact as it stands, a sentence.
    private static string Said(Machine machine, string name, AxisName? axis, LengthUnit shown)
    {
        var (value, unit) = Value(machine, name, axis ?? AxisName.X, shown);
        return $"{Words.Capital(MachinePage.Spaced(name).Replace(", mm", "", StringComparison.Ordinal))}{(axis is { } of ? $" of {of}" : "")} is {value}{(unit.Length > 0 && value != "unknown" ? " " + unit : "")}.";
    }

    private static (string Value, string Unit) Value(Machine machine, string name, AxisName axis, LengthUnit shown)
    {
        var seen = machine with { Units = shown };
        return name == Travel ? (FactUnits.Shown(seen.Travel(axis), seen), FactUnits.Length(seen).Symbol)
            : (FactUnits.Shown(MachineFacts.All[name], name == FactsPage.UnitsFact ? machine : seen, axis), FactUnits.Of(MachineFacts.All[name], seen, axis)?.Symbol ?? "");
    }

    // Null where it is left as it is.
    private Machine? Correct(Machine machine, string name)
    {
        var fact = MachineFacts.All.GetValueOrDefault(name);
        var axis = AxisName.X;
        if (fact is not { OfAxis: false })
        {
            var (by, letter) = asking.Ask("choose", "axis", "Of which axis? One of: X, Y, Z.", [], typed => MachineWords.TypedAxis(typed) is null ? new Problem($"\"{PlainText.Of(typed)}\" is no axis", "Answer X, Y or Z") : null);
            if (by is not AnsweredBy.Answer)
                return null;
            axis = MachineWords.TypedAxis(letter)!.Value;
        }

        var (kind, how) = fact is { Words.IsEmpty: false } ? ("choose", $"One of: {string.Join(", ", fact.Words)}.") : ("number", $"Type what is so{(Value(machine, name, axis, shown).Unit is { Length: > 0 } unit ? $", in {(unit == "in" ? "inches" : unit)}" : "")}.{(fact is null ? "" : " Empty: not known.")}");
        var (came, typed) = asking.Ask(kind, "value", $"{Said(machine, name, fact is { OfAxis: false } ? null : axis, shown)} {how}", ["The description before stays in the log. Tell a change of the machine itself with history change."], text => After(machine, name, axis, text) is Outcome<Machine>.Bad bad ? bad.Problems[0] : null);
        if (came is not AnsweredBy.Answer)
            return null;
        var after = After(machine, name, axis, typed).Require();
        return FactClash.New(machine, after) is { } clash && !Doubt.IsKept(asking, "value", shown.Shown().Told(clash.Reason)) ? null : after;
    }

    private Outcome<Machine> After(Machine machine, string name, AxisName axis, string typed)
    {
        if (MachineQuestions.WrittenByPower(typed) is { } power)
            return power;
        var seen = machine with { Units = shown };
        return name == FactsPage.UnitsFact ? FactsPage.Set(machine, MachineFacts.All[name], axis, typed)
            : (name == Travel ? FactsPage.Travel(seen, axis, typed) : FactsPage.Set(seen, MachineFacts.All[name], axis, typed)).Then<Machine>(after => after with { Units = machine.Units });
    }
}
