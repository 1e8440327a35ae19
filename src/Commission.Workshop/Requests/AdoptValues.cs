using System.Collections.Immutable;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Quantities;
using Commission.Core.Upkeep;
using Commission.Workshop.Controllers;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Requests;

/// <summary>
/// Begins a lost store anew: values off the wall card and a file of settings are entered as what they are, adopted and not measured.
/// They count as due at once, and never as an independent result.
/// </summary>
public sealed class AdoptValues(IJournal journal)
{
    /// <summary>Enters a value off a card.</summary>
    /// <param name="machine">The machine; null for the only one.</param>
    /// <param name="characteristic">Id of the kind of characteristic.</param>
    /// <param name="axis">The axis; null where it has none.</param>
    /// <param name="typed">The value as typed, with its unit where it is not the kind's own.</param>
    public Outcome<JournalEntry> Value(string? machine, string characteristic, AxisName? axis, string typed)
    {
        if (CharacteristicKinds.Find(characteristic) is not { Parameters: [var headline, ..] } kind)
            return new Problem($"\"{PlainText.Of(characteristic)}\" is no characteristic", "Name a kind as fit does, for example axis-scale");
        return Number(typed, headline.Unit).Then(value => ChooseMachine.From(journal.Present(null).Ledger, machine).Then(chosen => journal.Append(new EntryBody.FindingMade
        {
            Machine = chosen.Name,
            Characteristic = kind.Id,
            Axis = axis?.ToString(),
            Finding = Adopted(kind, headline, value),
            Options = new FitOptions { Axis = axis },
        })));
    }

    /// <summary>Enters the settings of a file, and takes the steps per millimetre in it into the machine's description.</summary>
    /// <param name="machine">The machine; null for the only one.</param>
    /// <param name="file">Name of the file, for problems.</param>
    /// <param name="text">What it holds.</param>
    /// <returns>The number of settings.</returns>
    public Outcome<int> Settings(string? machine, string file, string text) => SettingsFile.Read(file, text).Then(snapshot =>
        ChooseMachine.Present(journal, machine).Then(chosen =>
            journal.Append(new EntryBody.SettingsSaved(snapshot.Dialect, snapshot.Settings) { Machine = chosen.Machine.Name })
                .Then(_ => journal.Append(new EntryBody.MachineDescribed(With(chosen.Machine, snapshot.Settings), false) { Machine = chosen.Machine.Name }))
                .Then(_ => journal.Append(new EntryBody.Noted(null, "Settings adopted from a file, not measured.") { Machine = chosen.Machine.Name }))
                .Then<int>(_ => snapshot.Settings.Length)));

    private static Finding Adopted(CharacteristicKind kind, ParameterSpec headline, double value) => new()
    {
        Kind = kind.Id, Method = KeptResult.AdoptedMethod, Rows = 0, Used = 0, Verdict = Verdict.None,
        Parameters = [new FittedParameter { Name = headline.Name, Unit = headline.Unit, Value = value, WhyNoUncertainty = "adopted, not measured" }],
        Remarks = ["Adopted from a card, not measured."],
        Advice = new Advice { Action = AdviceAction.MeasureMore, Because = "The value was adopted, not measured.", Next = "Measure it once, so that it has an uncertainty." },
    };

    private static Outcome<double> Number(string typed, string unit)
    {
        var text = PlainText.Of(typed);
        if (text.Length == 0 || char.IsAsciiDigit(text[^1]) || text[^1] is '.' or ',')
            return new Problem($"the value \"{text}\" has no unit", $"Write it as the card has it, for example 120{ValueFormat.ShownIn(unit).Symbol}");
        var read = TypedNumber.Read(text, unit);

        // A small angle and a ratio are the same number, and cards have either.
        if (read is NumberReading.NotANumber && unit is "1" or "rad")
            read = TypedNumber.Read(text, unit == "1" ? "rad" : "1");
        return read switch
        {
            NumberReading.Clear clear => clear.Number.Value * clear.Number.Unit.Factor,
            NumberReading.NotANumber bad => bad.Problem,
            _ => new Problem($"the value \"{text}\" has two meanings", "Write it with a decimal point"),
        };
    }

    // A setting names no axis by itself: its key does, or there are three of them in the order X, Y, Z.
    private static Machine With(Machine machine, ImmutableArray<SavedSetting> settings)
    {
        var steps = settings.Where(setting => setting.Name == "stepsPerMm" && setting.Value > 0).ToList();
        AxisDescription Axis(AxisName name, AxisDescription axis)
        {
            var own = steps.Find(setting => setting.Key.EndsWith(name.ToString(), StringComparison.Ordinal)) ?? (steps.Count == 3 ? steps[(int)name] : null);
            return own is { Value: { } value } ? axis with { StepsPerMm = value } : axis;
        }

        return machine with { X = Axis(AxisName.X, machine.X), Y = Axis(AxisName.Y, machine.Y), Z = Axis(AxisName.Z, machine.Z) };
    }
}
