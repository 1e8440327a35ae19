using System.Collections.Immutable;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;
using Commission.Tests;

namespace Commission.Core.Tests.Motion;

/// <summary>A gate with a clock at hand: each call is one event, 0.1 s after the one before.</summary>
internal sealed class Bench
{
    public static readonly MotionFacts Facts = CommissionedFacts.Heron;

    public Gate Gate { get; private set; }
    public TimeSpan At { get; private set; }
    public ImmutableArray<GateEffect> Effects { get; private set; } = [];

    public Bench(MotionFacts? facts = null, Dialect? dialect = null) =>
        Gate = new Gate { Dialect = dialect ?? Dialects.Bytes, Facts = facts ?? Facts };

    public Bench After(Func<TimeSpan, GateEvent> happened, double seconds = 0.1)
    {
        At += TimeSpan.FromSeconds(seconds);
        (Gate, Effects) = Gate.After(happened(At));
        return this;
    }

    public Bench Rests(double x = 0, double y = 0, double z = 0) =>
        After(at => new GateEvent.Reported(at, StateReport.Of(ControllerState.Resting, new(x, y, z))));

    public Bench Moves(double x = 0, double y = 0, double z = 0) =>
        After(at => new GateEvent.Reported(at, StateReport.Of(ControllerState.Moving, new(x, y, z))));

    /// <summary>The line has left and was acknowledged.</summary>
    public Bench Taken() => After(at => new GateEvent.Left(at), 0.05).After(at => new GateEvent.Accepted(at), 0.05);

    public Bench Locks(string alarm) =>
        After(at => new GateEvent.Reported(at, StateReport.Of(ControllerState.Locked, new(0, 0, 0), alarm)));

    public Bench Connected() =>
        After(at => new GateEvent.InStep(at)).After(at => new GateEvent.IdentityTold(at, true)).Rests();

    public Bench Confirms(MotionAct act) =>
        After(at => new GateEvent.Asked(at, act)).After(at => new GateEvent.TokenTyped(at, act.Token));

    /// <summary>Homed, at the position (-1, -1, -1) shown and 1 mm from the high end of each axis.</summary>
    public Bench Homed() => Connected().Confirms(new MotionAct.Home())
        .After(at => new GateEvent.Left(at)).Moves().After(at => new GateEvent.Accepted(at)).Rests(-1, -1, -1);

    public IEnumerable<PlannedMove> Sent => Effects.OfType<GateEffect.SendMove>().Select(sent => sent.Move);
    public string? Refusal => Effects.OfType<GateEffect.Refuse>().FirstOrDefault()?.Why;

    public static MotionAct.Go Go(AxisName axis, double distance, double speed = 600) => new([new(axis, distance, speed)], 600);
}

/// <summary>Two dialects in the forms that matter to the gate, without the shipped files.</summary>
internal static class Dialects
{
    public static Dialect Bytes { get; } = Make(StopForm.Byte, ["$J=G21G91{axis}{distance}F{speed}"]);
    public static Dialect Lines { get; } = Make(StopForm.Line, ["G91", "G1 {axis}{distance} F{speed}", "G90"]);

    private static Dialect Make(StopForm stop, ImmutableArray<string> move) => new()
    {
        Name = "test",
        Title = "for tests",
        Source = "invented",
        Baud = 115200,
        LongestLine = 80,
        Answers = new() { Done = ["ok"], Refused = ["error:"], Greeting = ["hello"], GreetingSample = "hello" },
        Status = new() { Form = StatusForm.Bracketed, Ask = "?", Decimals = 3 },
        Stop = new() { How = stop, Code = stop == StopForm.Byte ? "\u0018" : "M112", Spoil = "*0", WorstCaseMs = 100, Drives = DrivesAfterStop.Held },
        Motion = new() { Move = move, Home = ["$H"], AnswersWhileHoming = true, LongestHomingS = 60, Unlock = "$X" },
        Settings = new() { Form = SettingsForm.Numbered, List = "$$", Write = "${key}={value}", Known = [] },
        Locks = [new("1", "a limit switch was hit", true), new("2", "a move led out of the travel", false)],
    };
}
