using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;

namespace Commission.Core.History;

/// <summary>The unit of a setting that was written or told: no entry carries it, because key and name tell it.</summary>
public static class SettingUnit
{
    private static readonly Lazy<ImmutableArray<DialectSetting>> Shipped = new(() => [.. ShippedDialects.Names.SelectMany(name => ShippedDialects.Find(name)!.Settings.Known)]);

    /// <summary>The unit as the controller was read with it, else as the key or the name has it; empty where none of them tells.</summary>
    /// <param name="ledger">The ledger.</param>
    /// <param name="written">What was written or told.</param>
    public static string Of(Ledger ledger, EntryBody.SettingWritten written) =>
        ledger.SettingsSaved.FindLast(saved => saved.Body.Machine == written.Machine && saved.Body.Settings.Any(one => one.Key == written.Key))
            ?.Body.Settings.First(one => one.Key == written.Key).Unit ?? Of(written);

    /// <summary>The unit by key and name alone; empty where neither tells.</summary>
    /// <param name="written">What was written or told.</param>
    public static string Of(EntryBody.SettingWritten written) => written switch
    {
        { Name: ControllerRatio.PerMm } => "steps/mm",
        { Name: ControllerRatio.PerInch } => "steps/in",
        { Name: ControllerRatio.MmPerStep } => "mm/step",
        { Name: ControllerRatio.PerTurn } => "steps/turn",
        { Name: "homeOffset" or "pullOff" or "travel" or Backlash.CompensationSetting } => "mm",
        _ => Shipped.Value.FirstOrDefault(known => known.Key == written.Key)?.Unit ?? "",
    };
}
