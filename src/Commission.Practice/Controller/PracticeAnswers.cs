using System.Globalization;
using System.Text;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;

namespace Commission.Practice.Controller;

/// <content>What the simulated controller says, and how faults bend it.</content>
public sealed partial class PracticeController
{
    private void Greet() => Say(dialect.Answers.GreetingSample);

    private void SayStatus()
    {
        var format = "F" + dialect.Status.Decimals;
        string Number(AxisName axis) => body.Shown(axis).ToString(format, CultureInfo.InvariantCulture);
        if (dialect.Status.Form == StatusForm.Letters)
        {
            Say($"X:{Number(AxisName.X)} Y:{Number(AxisName.Y)} Z:{Number(AxisName.Z)} E:0.00");
            return;
        }
        var pressed = string.Concat(Enum.GetValues<AxisName>().Where(body.Pressed));
        var pins = pressed.Length > 0 && dialect.Status.Pins is { } name ? $"|{name}:{pressed}" : "";
        Say($"<{StateWord()}|{dialect.Status.Machine}:{Number(AxisName.X)},{Number(AxisName.Y)},{Number(AxisName.Z)}|FS:0,0{pins}>");
    }

    private string StateWord()
    {
        var state = body.Moving || homing.Count > 0 ? ControllerState.Moving : locked ? ControllerState.Locked : ControllerState.Resting;
        return dialect.Status.Words.First(pair => pair.Value == state).Key;
    }

    private void SayStatusOfSettings()
    {
        if (dialect.Settings.Form == SettingsForm.Numbered)
        {
            foreach (var key in order)
                Say(dialect.Settings.Write.Replace("{key}", key, StringComparison.Ordinal).Replace("{value}", settings[key], StringComparison.Ordinal));
            return;
        }
        foreach (var group in order.GroupBy(key => key.Split(' ')[0]))
            Say($"{dialect.Answers.Remark[0]}  {group.Key} {string.Join(' ', group.Select(key => key.Split(' ')[1] + settings[key]))}");
    }

    private void Acknowledge()
    {
        if (faults.Remove(ControllerFault.MissingAcknowledgement))
            return;
        Say(dialect.Answers.Done[0]);
        if (faults.Remove(ControllerFault.DoubledAcknowledgement))
            Say(dialect.Answers.Done[0]);
    }

    private void Refuse(string code) => Say(dialect.Answers.Refused[0] + code);

    private void Say(string text)
    {
        if (faults.Contains(ControllerFault.Silence))
            return;
        var half = faults.Remove(ControllerFault.HalfLine);
        var bytes = Encoding.Latin1.GetBytes(half ? text[..(text.Length / 2)] : text + "\r\n");
        // What a port at another speed makes of it: as many bytes, none of them meant.
        if (faults.Contains(ControllerFault.WrongSpeed))
            bytes = [.. bytes.Select(value => (byte)(value * 7 ^ 0x95 | 0x80))];
        if (faults.Contains(ControllerFault.LateAnswers))
            late.Enqueue((now + 3, bytes));
        else
            output(bytes);
    }
}
