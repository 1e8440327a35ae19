using System.Globalization;
using System.Text;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;
using Commission.Core.Quantities;

namespace Commission.Practice.Controller;

/// <summary>
/// A simulated controller that serves a dialect file: bytes in, bytes out, time handed in. The same file that the link reads
/// tells it its words, so a mistake in the file shows on neither side alone; the shapes of the answers are its own.
/// </summary>
public sealed partial class PracticeController
{
    private readonly Dialect dialect;
    private readonly ControllerBody body;
    private readonly Dictionary<string, string> settings = [];
    private readonly List<string> order = [];
    private readonly StringBuilder line = new();
    private readonly Queue<(double At, byte[] Bytes)> late = new();
    private readonly Queue<AxisName> homing = new();
    private readonly HashSet<ControllerFault> faults = [];
    private string refusal = "1";
    private Action<ReadOnlyMemory<byte>> output = _ => { };
    private bool locked;
    private string? alarm;
    private bool relative;
    private bool strange;
    private double now;
    private double saidBusy;

    /// <param name="dialect">The dialect it serves.</param>
    /// <param name="body">The axes it drives.</param>
    public PracticeController(Dialect dialect, ControllerBody body)
    {
        (this.dialect, this.body) = (dialect, body);
        foreach (var setting in dialect.Settings.Known)
        {
            settings[setting.Key] = setting.Sample ?? "0";
            order.Add(setting.Key);
        }
        locked = dialect.Motion.LockedAfterRestart;
    }

    /// <summary>The axes.</summary>
    public ControllerBody Body => body;

    /// <summary>Lines taken so far, for tests of what was sent.</summary>
    public List<string> Taken { get; } = [];

    /// <summary>Whether the cable is out.</summary>
    public bool Unplugged { get; private set; }

    /// <summary>The text of a setting.</summary>
    public string Setting(string key) => settings[key];

    /// <summary>A setting is changed elsewhere, by hand or by another program: nothing is said about it here.</summary>
    public void ChangedElsewhere(string key, string text) => settings[key] = text;

    /// <summary>Connects what it says, and greets as a board does that restarts on opening.</summary>
    public void Connect(Action<ReadOnlyMemory<byte>> said, bool greets = true)
    {
        output = said;
        if (greets)
            Greet();
    }

    /// <summary>Raised when a STOP has arrived.</summary>
    public event Action? StopTaken;

    /// <summary>The next line is refused with this code.</summary>
    public void RefuseNext(string code)
    {
        refusal = code;
        faults.Add(ControllerFault.Refusal);
    }

    /// <summary>Whatever lasts is put right.</summary>
    public void Heal() => faults.Clear();

    /// <summary>Makes a fault happen now, or to the next answer.</summary>
    public void Inject(ControllerFault fault)
    {
        switch (fault)
        {
            case ControllerFault.Noise:
                output(Encoding.Latin1.GetBytes("\u0001\u00fe#~x\u001b[2J%\n"));
                break;
            case ControllerFault.Restart:
                Restart();
                break;
            case ControllerFault.Alarm:
                RaiseAlarm("1");
                break;
            case ControllerFault.Flood:
                output(Encoding.Latin1.GetBytes(string.Concat(Enumerable.Repeat("[flood]\n", 500))));
                break;
            case ControllerFault.PositionJump:
                body.ShiftShown(7);
                break;
            case ControllerFault.StrangeMove:
                strange = true;
                break;
            case ControllerFault.LieAfterReset:
                Restart();
                body.Slip(AxisName.X, -3);
                break;
            case ControllerFault.Unplug:
                Unplugged = true;
                break;
            default:
                faults.Add(fault);
                break;
        }
    }

    /// <summary>Bytes arrive.</summary>
    public void Receive(ReadOnlySpan<byte> bytes)
    {
        if (faults.Contains(ControllerFault.WrongSpeed))
            return;
        foreach (var value in bytes)
        {
            var letter = (char)value;
            if (dialect.Stop.How == StopForm.Byte && dialect.Stop.Code.Contains(letter))
                StopNow();
            else if (dialect.Status.Form == StatusForm.Bracketed && dialect.Status.Ask.Length == 1 && letter == dialect.Status.Ask[0])
                SayStatus();
            else if (letter is '\n' or '\r')
                TakeLine();
            else
                line.Append(letter);
        }
    }

    /// <summary>Time passes.</summary>
    public void Advance(double seconds)
    {
        now += seconds;
        while (late.TryPeek(out var one) && one.At <= now)
            output(late.Dequeue().Bytes);
        if (body.Advance(seconds) && homing.Count == 0)
            RaiseAlarm("1");
        if (homing.Count > 0 && !body.Moving)
            HomedOne();
        // Whatever is asked for from elsewhere waits until homing is over, as on a board.
        if (strange && homing.Count == 0)
        {
            strange = false;
            body.Go(AxisName.X, body.InTravel(AxisName.X) > 50 ? -20 : 20, 10);
        }
        if (homing.Count > 0 && now - saidBusy > 0.9 && !dialect.Answers.Busy.IsEmpty)
        {
            saidBusy = now;
            Say(dialect.Answers.Busy[0] + ": processing");
        }
    }

    private void TakeLine()
    {
        var text = line.ToString().Trim();
        line.Clear();
        if (text.Length == 0)
            return;
        Taken.Add(text);
        if (dialect.Stop.How == StopForm.Line && text == dialect.Stop.Code)
            StopNow();
        else if (faults.Remove(ControllerFault.Refusal))
            Refuse(refusal);
        else if (dialect.Stop.Spoil is { } spoil && text.Contains(spoil, StringComparison.Ordinal))
            Refuse("1");
        else if (!(Asked(text) || Written(text) || Moved(text) || Homed(text)))
            Refuse("20");
    }

    private bool Asked(string text)
    {
        if (text == dialect.Settings.List)
        {
            SayStatusOfSettings();
            Acknowledge();
        }
        else if (text == dialect.Status.Ask)
        {
            SayStatus();
            Acknowledge();
        }
        else if (text == dialect.Status.AskSwitches)
        {
            foreach (var axis in Enum.GetValues<AxisName>())
                Say($"{char.ToLowerInvariant(axis.ToString()[0])}_max: {(body.Pressed(axis) ? dialect.Status.Pressed[0] : "open")}");
            Acknowledge();
        }
        else if (text == dialect.Settings.Store)
            Acknowledge();
        else
            return false;
        return true;
    }

    private bool Written(string text)
    {
        foreach (var key in order)
        {
            var template = dialect.Settings.Write.Replace("{key}", key, StringComparison.Ordinal);
            if (LineTemplate.Match(template, text) is not { } parts || WireNumber.Read(parts["value"]) is not { } value)
                continue;
            if (body.Moving)
                Refuse("8");
            else
            {
                settings[key] = value.ToString("F" + WireNumber.Decimals(settings[key]), CultureInfo.InvariantCulture);
                Acknowledge();
            }
            return true;
        }
        return false;
    }

    // A controller keeps as many decimals as it shows.
    private bool Moved(string text)
    {
        foreach (var template in dialect.Motion.Move)
        {
            if (LineTemplate.Match(template, text) is not { } parts)
                continue;
            if (locked)
                Refuse("9");
            else if (!parts.TryGetValue("axis", out var letter))
            {
                relative = text == dialect.Motion.Move[0];
                Acknowledge();
            }
            else if (Enum.TryParse<AxisName>(letter, out var axis) && WireNumber.Read(parts["distance"]) is { } distance
                && WireNumber.Read(parts["speed"]) is { } speed && speed > 0)
            {
                // Without the word for relative motion a number is a place, as on the board.
                var way = relative || dialect.Motion.Move.Length == 1 ? distance : distance - body.Shown(axis);
                body.Go(axis, way, Math.Min(speed / 60, 200));
                Acknowledge();
            }
            else
                Refuse("2");
            return true;
        }
        return false;
    }

    private bool Homed(string text)
    {
        if (text == dialect.Motion.Unlock)
        {
            (locked, alarm) = (false, null);
            Acknowledge();
            return true;
        }
        if (!dialect.Motion.Home.Contains(text))
            return false;
        AxisName[] axes = [AxisName.Z, AxisName.X, AxisName.Y];
        foreach (var axis in axes.Where(axis => dialect.Motion.Home.Length == 1 || text.EndsWith(axis.ToString(), StringComparison.Ordinal)))
            homing.Enqueue(axis);
        saidBusy = now;
        body.Seek(homing.Peek(), 25);
        return true;
    }

    private void HomedOne()
    {
        body.Zero(homing.Dequeue());
        if (homing.TryPeek(out var next))
            body.Seek(next, 25);
        else
        {
            (locked, alarm) = (false, null);
            Acknowledge();
        }
    }

    private void StopNow()
    {
        StopTaken?.Invoke();
        var moved = body.Moving;
        body.Halt();
        homing.Clear();
        line.Clear();
        if (moved && dialect.Motion.LockedAfterRestart)
            (locked, alarm) = (true, "3");
        Greet();
        if (moved && alarm is not null)
            Say(dialect.Answers.Alarm[0] + alarm);
    }

    private void Restart()
    {
        body.Halt();
        homing.Clear();
        line.Clear();
        relative = false;
        (locked, alarm) = (dialect.Motion.LockedAfterRestart, null);
        Greet();
    }

    private void RaiseAlarm(string code)
    {
        body.Halt();
        homing.Clear();
        if (dialect.Answers.Alarm.IsEmpty)
        {
            Say(dialect.Answers.Refused[0] + code);
            return;
        }
        (locked, alarm) = (true, code);
        Say(dialect.Answers.Alarm[0] + code);
    }
}
