using System.Globalization;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;
using Commission.Core.Procedures;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>From a proposal to the controller: the difference over a link, or the value told that its owner has set.</summary>
public static class SettingDeeds
{
    // The one setting that this program writes.
    private const string Written = "stepsPerMm";

    /// <summary>Shows the difference: in the box over a link, else as a question for the value that was set by hand. Nothing is written by that.</summary>
    public static void Difference(Desk desk, ProposedSetting setting, string path)
    {
        if (desk.Link is { IsOpen: true } link && setting.Name == Written && Box(desk, link, setting, path, null, null))
            return;
        desk.Cover(Told(desk, setting));
    }

    /// <summary>Why a setting is not written though a link is open, a clause; null where it is, and without a link.</summary>
    public static string? WhyByHand(Desk desk, ProposedSetting setting) => desk.Link is not { IsOpen: true, Dialect: { } dialect } ? null
        : dialect.Settings?.Known.Any(known => known.Name == setting.Name && known.Axis?.ToString() == setting.Axis) != true ? "the dialect names no such setting"
        : setting.Name != Written || MachineWords.Axis(setting.Axis) is null ? "only steps per mm are written" : null;

    /// <summary>Asks the link what would be written and shows the box.</summary>
    /// <param name="desk">The desk.</param>
    /// <param name="link">The link.</param>
    /// <param name="setting">The proposal.</param>
    /// <param name="path">Where one is.</param>
    /// <param name="written">Done once what was read back agrees.</param>
    /// <param name="onward">Done when the box is left after that.</param>
    /// <returns>Whether it could be asked for.</returns>
    public static bool Box(Desk desk, DeskLink link, ProposedSetting setting, string path, Action? written, Action? onward)
    {
        if (MachineWords.Axis(setting.Axis) is not { } axis)
            return false;
        if (link.Doubt is not null)
        {
            desk.Say("Which machine is this? C asks; nothing is written before it is answered.");
            return true;
        }

        desk.Say("The settings are read.");
        link.Plan(axis, setting.AsStored, writes => desk.Cover(new WritePage(desk, writes, path, written, onward)));
        return true;
    }

    private static TextPage Told(Desk desk, ProposedSetting setting)
    {
        return new(desk, new TextAsked(
            "told", string.Create(CultureInfo.InvariantCulture, $"{FindingSheet.Called(setting).Name}: {setting.AsStored:0.000###}{FindingSheet.Called(setting).Unit} is proposed. What does the controller hold now?"),
            desk.Link is { IsOpen: true } ? $"Not written over the link: {WhyByHand(desk, setting) ?? "it has no axis"}. Set it at the machine, read it there, type what it shows."
                : "No controller is linked: set it at the machine, read it there, type what it shows. With the link (C) it is written and read back here.",
            "into the log", "Type the value. Enter puts it into the log.",
            typed => TypedEntry.Number(typed, setting.ExpressedAs).Then<string>(value =>
            {
                if (!(value > 0))
                    return new Problem($"{PlainText.Of(typed)} is not above zero", "Type what the controller shows");
                return desk.Write(new EntryBody.SettingWritten { Machine = desk.MachineName, Operator = desk.Operator, Name = setting.Name, Axis = setting.Axis, Before = setting.Current, After = value, Stage = EntryBody.SettingWritten.Told })
                    ? string.Create(CultureInfo.InvariantCulture, $"{SettingName.InWords(setting.Name, setting.Axis)}: {value} {setting.ExpressedAs} is in the log, told by you, not read back.")
                    : new Problem("it could not be written into the log", "See what is wrong with the store");
            }))
        {
            Odd = typed => TypedEntry.Number(typed, setting.ExpressedAs) is Outcome<double>.Good { Value: > 0 and var value } && AnswerDoubt.About(setting, PlainText.Of(typed), value) is { } doubt
                ? new(Core.Quantities.Words.Capital(doubt.Reason), doubt.Meant?.ToString("0.000###", CultureInfo.InvariantCulture)) : null,
        });
    }
}
