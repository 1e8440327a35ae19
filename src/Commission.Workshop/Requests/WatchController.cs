using System.Text.Json;
using Commission.Core;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;
using Commission.Core.Reports;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Requests;

/// <summary>The live state of a controller.</summary>
public sealed class WatchController(TimeProvider time)
{
    // Twelve and a half a second: the contract asks for ten, and timers are late rather than early.
    private static readonly TimeSpan Gap = TimeSpan.FromMilliseconds(80);

    /// <summary>Tells the state again and again, counted from the first that is known.</summary>
    /// <param name="link">The link.</param>
    /// <param name="longest">How long; null until cancelled.</param>
    /// <param name="seen">Takes each state with its instant.</param>
    /// <param name="cancellation">Ends it.</param>
    public async Task<Outcome<int>> RunAsync(IControllerLink link, TimeSpan? longest, Action<LinkSnapshot, DateTimeOffset> seen, CancellationToken cancellation)
    {
        var count = 0;
        long? began = null;
        while (!cancellation.IsCancellationRequested)
        {
            var now = link.Now;
            if (!now.Gate.LinkInStep)
                return new Problem(now.Gate.Trouble ?? "the link was lost", "Check the cable, then connect again");
            if (now.Gate.Report is not null)
            {
                began ??= time.GetTimestamp();
                seen(now, time.GetUtcNow());
                count++;
            }
            if (began is { } start && longest is { } limit && time.GetElapsedTime(start) >= limit)
                return count;
            try
            {
                await Task.Delay(Gap, time, cancellation).ConfigureAwait(false);
            }
            catch (OperationCanceledException)
            {
                return count;
            }
        }
        return count;
    }

    /// <summary>Writes one state as the contract has it.</summary>
    public static void Write(Utf8JsonWriter json, LinkSnapshot now, DateTimeOffset at)
    {
        var shown = now.Gate.Report?.Shown;
        json.Document("commission.state/1", () =>
        {
            json.WriteString("at", at.ToUniversalTime().ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", System.Globalization.CultureInfo.InvariantCulture));
            json.WriteString("state", Word(now.State));
            foreach (var axis in Enum.GetValues<AxisName>())
                json.Number($"{char.ToLowerInvariant(axis.ToString()[0])}_mm", shown?[axis]);
            json.Texts("switches", (now.Gate.Report?.Pressed ?? []).Order().Select(axis => axis.ToString()));
            json.WriteString("alarm", now.Gate.Report?.Alarm is { } alarm ? Core.Motion.MotionRules.Alarm(now.Gate.Dialect, alarm) : null);
            json.Number("age_s", now.Age?.TotalSeconds);
        });
    }

    /// <summary>One state as a line for people; the age of the answer stands in it once it is over a second.</summary>
    public static string Line(LinkSnapshot now)
    {
        var parts = new List<string> { Word(now.State) };
        if (now.Gate.Report?.Shown is { } shown)
            parts.AddRange(Enum.GetValues<AxisName>().Select(axis => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{axis} {shown[axis]:F3} mm")));
        if (now.Gate.Report is { Pressed.IsEmpty: false } report)
            parts.Add("switches " + string.Join(' ', report.Pressed.Order()));
        if (now.Gate.Report?.Alarm is { } alarm)
            parts.Add(Core.Motion.MotionRules.Alarm(now.Gate.Dialect, alarm));
        if (now.Age is { TotalSeconds: > 1 } age)
            parts.Add(string.Create(System.Globalization.CultureInfo.InvariantCulture, $"answer {age.TotalSeconds:F0} s old"));
        return string.Join("  ", parts);
    }

    /// <summary>A state in our words.</summary>
    public static string Word(ControllerState state) => MachineWords.Of(DialectReader.States, state);
}
