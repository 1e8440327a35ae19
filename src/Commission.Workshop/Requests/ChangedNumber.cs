using System.Globalization;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines;

namespace Commission.Workshop.Requests;

/// <summary>The number that a change is about: a ratio that was set has one, and what was in force before it is known.</summary>
/// <param name="Name">Name of the setting, as the controller of the axis states it.</param>
/// <param name="Axis">The axis.</param>
/// <param name="Unit">Unit of the number.</param>
/// <param name="Known">The number that is known to be in force; null where none is.</param>
public sealed record ChangedNumber(string Name, AxisName Axis, string Unit, double? Known)
{
    /// <summary>The change whose number is asked for.</summary>
    public const string StepsChanged = "steps-changed";

    // A ratio that was corrected moves by parts in a thousand; beyond this part of it a slip is nearer (our choice).
    private const double Part = 0.02;

    /// <summary>The number of a change; null where it has none, or where its axis is not named.</summary>
    /// <param name="machine">The machine as it is known.</param>
    /// <param name="word">Word of the change.</param>
    /// <param name="axis">The axis; null where it concerns none or all.</param>
    public static ChangedNumber? Of(Machine machine, string word, AxisName? axis)
    {
        if (word != StepsChanged || axis is not { } named)
            return null;
        var described = machine[named];
        var (name, unit, value) = ControllerRatio.Stated(described.StepsPerMm ?? 0, described.Setting, described.TravelPerTurnMm);
        return new(name, named, unit, described.StepsPerMm is null ? null : value);
    }

    /// <summary>What is odd about a number, a clause: it is far from the one that is known. Null where nothing is.</summary>
    /// <param name="shown">The number as typed, fit to be shown.</param>
    /// <param name="value">The number.</param>
    public string? Doubt(string shown, double value) => Known is { } known && Math.Abs(value - known) > Part * known
        ? string.Create(CultureInfo.InvariantCulture, $"{shown} is far from {known:0.000###}, which is known") : null;

    /// <summary>The entry of the number that holds now.</summary>
    /// <param name="value">The number, above zero.</param>
    public Outcome<EntryBody.SettingWritten> Told(double value) => value > 0 && double.IsFinite(value)
        ? new EntryBody.SettingWritten { Name = Name, Axis = Axis.ToString(), Before = Known, After = value, Stage = EntryBody.SettingWritten.Told }
        : new Problem("the number is not above zero", "Type what the controller shows");
}
