using System.Globalization;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;
using Commission.Core.Quantities;
using Commission.Workshop.Ports;
using Commission.Workshop.Requests;

namespace Commission.Workshop.Screens.Pages;

/// <summary>The link in the words of the live strip.</summary>
public static class LinkWords
{
    private static readonly TimeSpan Silent = TimeSpan.FromSeconds(1);

    /// <summary>The strip.</summary>
    /// <param name="now">What is known.</param>
    /// <param name="practice">Whether it is the practice controller.</param>
    /// <param name="hidden">Axis whose position would tell the reading; null for none.</param>
    /// <param name="units">Units of the positions.</param>
    public static LiveStrip Live(LinkSnapshot now, bool practice, AxisName? hidden, ShownUnits units)
    {
        if (Lost(now.Gate) is { } gone)
            return Untrusted("link lost . nothing is sent", "", gone, stops: false);
        var trusted = now.Gate.State is TrustState.Homed or TrustState.Placed || now.Gate is { State: TrustState.Moving, InTravel: not null };
        var at = (trusted ? now.Gate.InTravel : null) ?? now.Gate.Report?.Shown;
        var head = Head(now, practice);
        return trusted && at is { } position
            ? new($"{head} . cmd{(units == ShownUnits.Inches ? " in" : "")} {string.Join("  ", Enum.GetValues<AxisName>().Select(axis => Axis(axis, position, hidden, units))).TrimEnd()} . {(practice || IsSilent(now) ? "trusted" : "position trusted")}", Stops: true)
            : Untrusted(head, " . cmd ??? ??? ???", Why(now.Gate), stops: true);
    }

    /// <summary>Whether nothing was heard for more than a second: the state told last says nothing of now.</summary>
    public static bool IsSilent(LinkSnapshot now) => now.Age > Silent;

    // The age of the last answer once it is over a second: whole seconds, that nothing flickers.
    private static string Head(LinkSnapshot now, bool practice) =>
        IsSilent(now) ? string.Create(CultureInfo.InvariantCulture, $"link silent {Math.Floor(now.Age!.Value.TotalSeconds):0} s") : $"{(practice ? "link practice" : "link")} {State(now.State)}";

    // With less room the unknown position goes first, which is said by the rest; then the reason keeps what stands before its first pause.
    private static LiveStrip Untrusted(string head, string position, string why, bool stops)
    {
        var pause = why.IndexOfAny([':', ';', ',']);
        return new LiveStrip($"{head}{position} . NOT TRUSTED: {why}", stops)
        {
            Shorter =
            [
                .. position.Length > 0 ? (ReadOnlySpan<string>)[$"{head} . NOT TRUSTED: {why}"] : [],
                .. pause > 0 ? (ReadOnlySpan<string>)[$"{head} . NOT TRUSTED: {why[..pause]} ..."] : [],
            ],
        };
    }

    /// <summary>The strip once STOP was sent: since when nothing is trusted.</summary>
    /// <param name="now">What is known.</param>
    /// <param name="practice">Whether it is the practice controller.</param>
    /// <param name="since">Time of day.</param>
    public static LiveStrip Stopped(LinkSnapshot now, bool practice, string since) =>
        new($"{Head(now, practice)} . cmd ??? ??? ??? . POSITION NOT TRUSTED since {since}", Stops: true)
        {
            // Since when stands to the last: that the position is not known is said by it.
            Shorter = [$"{Head(now, practice)} . POSITION NOT TRUSTED since {since}"],
        };

    /// <summary>What comes before a step's moves once trust is lost, in three lengths of a sentence: by what is known of the machine it is not always homing.</summary>
    /// <param name="gate">The gate; null where no link is open.</param>
    public static (string Trust, string After, string Written) Onward(Gate? gate) => gate?.Facts switch
    {
        { HasSwitches: false } => ("The position is not trusted. Each axis goes to its place again first.", "each axis to its place, in its own box", "each axis goes to its place again first"),
        { } facts when MotionRules.WhyNoHoming(facts, watchedTest: false) is not null => ("Not trusted. Homing is not allowed yet: the next box says what moves.", "the next box says what moves", "homing is not allowed yet"),
        _ => ("The position is not trusted. The next move begins with homing.", "home, with its own confirmation", "the next move begins with homing"),
    };

    /// <summary>Why a link that was open has no other end any more; null while it has. It must not seem that STOP is sent over it.</summary>
    public static string? Lost(Gate gate) => gate.LinkInStep ? null : gate.Trouble ?? "the device is gone";

    /// <summary>A state in our words, as short as the strip needs.</summary>
    public static string State(ControllerState state) => state == ControllerState.Resting ? "rest" : WatchController.Word(state);

    /// <summary>Why the position is not trusted, a clause.</summary>
    public static string Why(Gate gate) => gate.Trouble ?? gate.State switch
    {
        TrustState.Locked => "locked, not homed",
        TrustState.Unreferenced or TrustState.Moving => "not homed",
        _ => !gate.LinkInStep ? "not in step" : !gate.IdentityConfirmed ? "which machine?" : !gate.Facts.MissingChecks.IsEmpty ? "checks missing" : MotionRules.NotOurs(gate) ?? "rest not told",
    };

    private static string Axis(AxisName axis, MachinePosition at, AxisName? hidden, ShownUnits units) =>
        axis == hidden ? $"{axis}  hidden " : $"{axis} {units.Digits(at[axis]),7}";
}
