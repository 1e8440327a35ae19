using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Quantities;
using Commission.Core;
using Commission.Core.Machines;
using Commission.Core.Upkeep;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>Corrects the description of the machine, one fact at a time; each correction is an entry.</summary>
public sealed class FactsPage(Desk desk) : ListPage(desk)
{
    /// <inheritdoc/>
    public override string Called => "correct it";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => ["Enter types over the chosen fact. A fact that becomes another may make results stale: tell what was changed on the machine with A on the log."];

    private const string TravelFact = "travel", GradeFact = "grade", NotKnown = "unknown";

    /// <summary>Name of the fact that tells in which units a machine is kept.</summary>
    public const string UnitsFact = "units";

    private sealed record Fact(string Name, AxisName? Axis, string Value, string Unit, ImmutableArray<string> Words, Func<Machine, string, Outcome<Machine>> Set);

    private ImmutableArray<Fact> Facts
    {
        get
        {
            var machine = Desk.AsShown!;
            return
            [
                .. Enum.GetValues<AxisName>().Select(axis => new Fact(TravelFact, axis, FactUnits.Shown(machine.TravelMm[(int)axis], machine), FactUnits.Length(machine).Symbol, [], (now, typed) => Travel(now, axis, typed))),
                .. MachineFacts.All.Values.Where(fact => !fact.OfAxis).Select(fact => Of(fact.Name == UnitsFact ? Desk.Machine! : machine, fact, null)),
                .. MachineFacts.All.Values.Where(fact => fact.OfAxis).SelectMany(fact => Enum.GetValues<AxisName>().Select(axis => Of(machine, fact, axis))),
            ];
        }
    }

    /// <inheritdoc/>
    protected override int Count => Facts.Length;

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        var facts = Facts;
        return ListSheet.Of(
            new ListView
            {
                Path = $"{Desk.MachineName} / machine / correct it", Right = string.Create(CultureInfo.InvariantCulture, $"{Chosen + 1} of {Count}"), Live = Desk.Live,
                Head = "   fact                     axis   now", Chosen = Chosen,
                Lines = [.. facts.Select(fact => $"{MachinePage.Spaced(fact.Name),-25}{fact.Axis?.ToString() ?? "",-7}{fact.Value}{(fact.Unit.Length > 0 && fact.Value != NotKnown ? " " + fact.Unit : "")}")],
                Step = ("Enter types over the chosen fact.", facts[Chosen].Name == TravelFact ? "A length from end to end; it must be known." : facts[Chosen].Words.IsEmpty ? "A number, or unknown." : Cut("One of: " + string.Join(", ", facts[Chosen].Words) + ".", width)),
                Keys = [new("Enter", "correct", "next"), Undo.Key(Desk), new("Up, Down", "choose", "choose"), new("Esc", "machine", "away"), new("F1", "help", "help"), new("F2", "card", "card")],
            },
            height);
    }

    /// <inheritdoc/>
    public override void FollowNext()
    {
        var fact = Facts[Chosen];
        var words = fact.Name == TravelFact ? $"From end to end, a number with comma or point{Fraction(fact.Unit)}. This one must be known." : fact.Words.IsEmpty ? $"A number with comma or point{Fraction(fact.Unit)}. Unknown, or nothing: I do not know." : "One of: " + string.Join(", ", fact.Words) + ".";
        var named = MachinePage.Spaced(fact.Name) + (fact.Axis is { } axis ? $" of {axis}" : "");
        Desk.Cover(new TextPage(
            Desk,
            new TextAsked("correct it", $"{Words.Capital(named)}?", words + " The old description stays in the log.", "correct it", "Type it. Enter corrects it.",
                typed => Corrected(fact, typed).Then(machine => new DescribeMachine(Desk.Means.Journal).Change(machine)).Then<string>(_ =>
                {
                    var before = RestingOnLost.ToHashSet(StringComparer.Ordinal);
                    Desk.Refresh();
                    return RestingOnLost.Where(name => !before.Contains(name)).Distinct().ToList() is { Count: > 0 } rested
                        ? $"{named}: corrected. U undoes it. {string.Join(", ", rested)} rested on what it was." : $"{named}: corrected. U undoes it.";
                }),
                fact.Unit)
            { Odd = typed => Corrected(fact, typed) is Outcome<Machine>.Good { Value: var after } && FactClash.New(Desk.Machine!, after) is { } clash ? new(Desk.Units.Told(clash.Reason), Meant(fact, after, clash)) : null },
            fact.Value == NotKnown ? "" : fact.Value));
    }

    private Outcome<Machine> Corrected(Fact fact, string typed) =>
        (fact.Words.IsEmpty && TypedEntry.PowerOfTen(typed) is { } power ? power : fact.Set(Desk.AsShown!, typed)).Then<Machine>(machine => fact.Name == UnitsFact ? machine : Desk.AsKept(machine));

    // What would settle the contradiction, where it is this fact, as it is typed.
    private static string? Meant(Fact fact, Machine after, FactClash clash) =>
        clash is { Suggestion: { } value } && clash.Axis == fact.Axis && MachineFacts.All.GetValueOrDefault(clash.Fact) is { } of && FactUnits.Named(of, after, clash.Axis) == fact.Name
            ? FactUnits.Shown(of, of.Set(after, clash.Axis, value.ToString("R", CultureInfo.InvariantCulture)), clash.Axis) : null;

    // Results in force that rest on a fact which the description has no longer.
    private IEnumerable<string> RestingOnLost => Desk.Ledger.FindingsInForce(Desk.MachineName!).Where(finding => !RestingFacts.Of(Desk.Ledger, finding.Made).IsEmpty).Select(finding => FindingPage.Named(finding.Made.Body));

    private static Fact Of(Machine machine, MachineFact fact, AxisName? axis)
    {
        var at = axis ?? AxisName.X;
        return new(FactUnits.Named(fact, machine, at), axis, FactUnits.Shown(fact, machine, at), FactUnits.Of(fact, machine, at)?.Symbol ?? "", fact.Words, (now, typed) => Set(now, fact, at, typed));
    }

    /// <summary>A machine with a fact as it was typed; empty is: not known.</summary>
    /// <param name="machine">The machine.</param>
    /// <param name="fact">The fact.</param>
    /// <param name="axis">Its axis; any where it has none.</param>
    /// <param name="typed">What was typed.</param>
    public static Outcome<Machine> Set(Machine machine, MachineFact fact, AxisName axis, string typed)
    {
        if (fact.Words.IsEmpty ? typed.Length == 0 || typed == NotKnown : typed.Length == 0 && fact.Words.Contains(NotKnown))
            return fact.Set(machine, axis, NotKnown);
        if (!fact.Words.IsEmpty)
            return fact.Words.Contains(typed) ? fact.Set(machine, axis, typed) : new Problem($"\"{PlainText.Of(typed)}\" is none of the answers", "Type one of: " + string.Join(", ", fact.Words));
        // What stands there was shown rounded: sent back as it is it changes nothing.
        if (typed == FactUnits.Shown(fact, machine, axis))
            return machine;
        return TypedEntry.Number(typed, fact.Unit is { Length: > 0 } unit ? unit : "1", FactUnits.Of(fact, machine, axis)?.Symbol).Then(value => value > 0
            ? Whole(fact, machine, axis, value, typed)
            : new Problem($"{PlainText.Of(typed)} is not above zero", "Type a positive number, or unknown"));
    }

    // A count that is kept as a whole number is none with a part behind the point; a screw has one of the grades that there are.
    private static Outcome<Machine> Whole(MachineFact fact, Machine machine, AxisName axis, double value, string typed)
    {
        var text = value.ToString("R", CultureInfo.InvariantCulture);
        if (fact.Name == GradeFact && ScrewGrades.All.All(grade => grade != value))
            return new Problem($"{PlainText.Of(typed)} is no grade of a screw", "Type one of " + string.Join(", ", ScrewGrades.All) + ", or unknown");
        var after = fact.Set(machine, axis, text);
        return double.TryParse(fact.Get(after, axis), NumberStyles.Float, CultureInfo.InvariantCulture, out var kept) && Math.Abs(kept - value) <= 1e-9 * value
            ? after : new Problem($"{PlainText.Of(typed)} is not a whole number", "Type a whole one, or unknown");
    }

    /// <summary>A machine with the travel of an axis as it was typed.</summary>
    /// <param name="machine">The machine.</param>
    /// <param name="axis">The axis.</param>
    /// <param name="typed">What was typed.</param>
    public static Outcome<Machine> Travel(Machine machine, AxisName axis, string typed) => typed == FactUnits.Shown(machine.TravelMm[(int)axis], machine) ? machine
        : TypedEntry.Number(typed, "mm", FactUnits.Length(machine).Symbol).Then<Machine>(mm => mm is > 0 and < 100_000
            ? machine with { TravelMm = machine.TravelMm.SetItem((int)axis, mm) }
            : new Problem($"{PlainText.Of(typed)} is no travel", "Type the travel in mm, from end to end"));

    private static string Fraction(string unit) => unit == "in" ? ", or a fraction as 3 1/8" : "";

    private static string Cut(string text, int width) => text.Length <= width - 9 ? text : text[..text.LastIndexOf(',', width - 14)] + " ...";
}
