using System.Globalization;
using Commission.Core.Reports;

namespace Commission.App.Rehearsal;

/// <summary>One parameter found on a walk beside what the practice machine is really like.</summary>
/// <param name="Characteristic">Id of the kind.</param>
/// <param name="Axis">The axis or pair; null where the machine as a whole is meant.</param>
/// <param name="Parameter">Name of the parameter.</param>
/// <param name="Unit">Its unit.</param>
/// <param name="Truth">What is true.</param>
/// <param name="Found">What was found.</param>
/// <param name="ExpandedUncertainty">U of what was found; null where none could be given.</param>
internal sealed record WalkResult(
    string Characteristic, string? Axis, string Parameter, string Unit, double Truth, double Found, double? ExpandedUncertainty)
{
    /// <summary>Whether the truth lies inside U; null where there is no U.</summary>
    public bool? Inside => ExpandedUncertainty is { } half ? Math.Abs(Found - Truth) <= half : null;

    /// <summary>The line printed at the end of a walk.</summary>
    public string Words
    {
        get
        {
            var name = Axis is null ? $"{Characteristic} {Parameter}" : $"{Characteristic} {Axis} {Parameter}";
            var half = ExpandedUncertainty is { } u ? $"U {Shown(u)}" : "no U";
            var inside = Inside switch { true => "inside", false => "not inside", null => "cannot be said" };
            return $"{name}: true {Shown(Truth)}, found {Shown(Found)}, {half}, {inside}";
        }
    }

    private string Shown(double value) => Unit switch
    {
        "1" => string.Create(CultureInfo.InvariantCulture, $"{value * 1e6:F0} ppm"),
        "rad" => string.Create(CultureInfo.InvariantCulture, $"{value * 1e3:F3} mm/m"),
        "mm" => string.Create(CultureInfo.InvariantCulture, $"{value:F4} mm"),
        _ => string.Create(CultureInfo.InvariantCulture, $"{value:G4} {Unit}"),
    };
}

/// <summary>The document <c>commission.walk/1</c>.</summary>
internal static class WalkDocument
{
    /// <summary>One line of JSON, numbers with 17 significant digits.</summary>
    public static string Write(ulong seed, IEnumerable<WalkResult> results) => JsonText.Of(json => json.Document("commission.walk/1", () =>
    {
        json.WriteNumber("seed", seed);
        json.Objects("results", results, result =>
        {
            json.WriteString("characteristic", result.Characteristic);
            json.WriteString("axis", result.Axis);
            json.WriteString("parameter", result.Parameter);
            json.WriteString("unit", result.Unit);
            json.Number("truth", Finite(result.Truth));
            json.Number("found", Finite(result.Found));
            json.Number("expandedUncertainty", Finite(result.ExpandedUncertainty));
            json.Flag("inside", result.Inside);
        });
    }));

    private static double? Finite(double? number) => number is { } known && double.IsFinite(known) ? known : null;
}
