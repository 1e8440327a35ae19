using System.Globalization;
using Commission.Core.Quantities;

namespace Commission.Core.Machines;

/// <summary>The numbers of a machine as its owner tells them: lengths in the owner's unit, a ratio as the controller counts it. What is kept stays in millimetres.</summary>
public static class FactUnits
{
    private const string RatioByInch = "stepsPerInch";

    /// <summary>Unit in which a length, mm, is shown and typed.</summary>
    public static Unit Length(Machine machine) => machine.Units.Shown().Length;

    /// <summary>The units that somebody sees who works in millimetres, or in inches.</summary>
    public static ShownUnits Shown(this LengthUnit units) => ShownUnits.Of(units == LengthUnit.Inch);

    /// <summary>Unit in which a fact is shown and typed; null for words and for numbers without one.</summary>
    /// <param name="fact">The fact.</param>
    /// <param name="machine">The machine: whether its owner works in inches, and whether the controller counts in them.</param>
    /// <param name="axis">The axis.</param>
    public static Unit? Of(MachineFact fact, Machine machine, AxisName axis) => fact.Unit switch
    {
        "mm" => Length(machine),
        "steps/mm" => Unit.Of(machine[axis].Setting == RatioSetting.StepsPerInch ? "steps/in" : "steps/mm"),
        { Length: > 0 } symbol => Unit.Find(symbol),
        _ => null,
    };

    /// <summary>A fact in words, a number in its unit.</summary>
    public static string Shown(MachineFact fact, Machine machine, AxisName axis)
    {
        var text = fact.Get(machine, axis);
        return Of(fact, machine, axis) is { Factor: not 1 } unit && unit.Symbol is "in" or "steps/in" && double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var value)
            ? Digits(value / unit.Factor) : text;
    }

    /// <summary>A length of mm in the owner's unit, without it.</summary>
    public static string Shown(double mm, Machine machine) => Digits(mm / Length(machine).Factor);

    /// <summary>A fact's name without a unit that is not its own here: <c>travelPerTurnMm</c> is <c>travelPerTurn</c> for an owner in inches, and <c>stepsPerInch</c> is what a controller counts that counts so.</summary>
    public static string Named(MachineFact fact, Machine machine, AxisName axis) => Of(fact, machine, axis)?.Symbol switch
    {
        "steps/in" => RatioByInch,
        "in" => fact.Name[..^2],
        _ => fact.Name,
    };

    // Five decimals of an inch are a quarter of a micrometre; a ratio by inch is shown as far as it was typed.
    private static string Digits(double value) => value.ToString("0.#####", CultureInfo.InvariantCulture);
}
