using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;

namespace Commission.Core.Motion;

/// <summary>The conditions behind the words of the motion table. Each answers with the reason why not, or null.</summary>
public static class MotionRules
{
    /// <summary>Why something may not be asked for now; null where it may.</summary>
    public static string? WhyNot(Gate gate, MotionAct act) =>
        ByState(gate, act) ?? act switch
        {
            MotionAct.Go go => (gate.State == TrustState.Unreferenced ? Untrusted(gate, go) : Trusted(gate, go)) ?? TooLong(gate.Dialect, go),
            MotionAct.Home home => Homing(gate, home),
            MotionAct.Unlock => gate.Dialect.Motion.Unlock is null ? "this controller has no way to unlock it; restart it" : null,
            MotionAct.SetReference set => Reference(gate, set),
            _ => throw new System.Diagnostics.UnreachableException(),
        };

    /// <summary>Where homing leaves the machine, in the travel, mm.</summary>
    public static MachinePosition HomeInTravel(MotionFacts facts)
    {
        double End(AxisName axis) => facts.HomeHigh.Contains(axis) ? facts.TravelMm[axis] - facts.PullOffMm[axis] : facts.PullOffMm[axis];
        return new(End(AxisName.X), End(AxisName.Y), End(AxisName.Z));
    }

    /// <summary>Our sentence for an alarm.</summary>
    public static string Alarm(Dialect dialect, string? code) => dialect.Lock(code)?.Meaning ?? "the controller reports an alarm";

    private const string HomingWords = "All axes seek their switches, Z first and upwards.";

    private const string TestWords = "This is the test of the switches: the position is not trusted after it.";

    /// <summary>The axes that moved, from the words with which a journal keeps an act that was carried out.</summary>
    public static ImmutableHashSet<AxisName> AxesOf(string words) => words.StartsWith(HomingWords, StringComparison.Ordinal)
        ? [.. Enum.GetValues<AxisName>()]
        : [.. Enum.GetValues<AxisName>().Where(axis => words.StartsWith($"{axis} moves ", StringComparison.Ordinal))];

    /// <summary>The whole of an act in words, a line each.</summary>
    public static ImmutableArray<string> Describe(Gate gate, MotionAct act) => act switch
    {
        MotionAct.Go go => Describe(gate, go),
        MotionAct.Home home => [HomingWords, string.Create(CultureInfo.InvariantCulture,
            $"It lasts at most {gate.Dialect.Motion.LongestHomingS} s."), .. home.WatchedTest ? [TestWords] : ImmutableArray<string>.Empty, .. AboutStop(gate.Dialect.Stop)],
        MotionAct.Unlock => ["The controller is unlocked. Nothing moves by that; the position stays not trusted."],
        MotionAct.SetReference set => [string.Create(CultureInfo.InvariantCulture,
            $"{set.Axis} stands on its marked place, {End(gate, set)}. Nothing is sent.")],
        _ => throw new System.Diagnostics.UnreachableException(),
    };

    private static string End(Gate gate, MotionAct.SetReference set) =>
        set.PlaceMm == 0 ? "the stop at the low end of its travel"
        : set.PlaceMm == gate.Facts.TravelMm[set.Axis] ? "the stop at the high end of its travel"
        : string.Create(CultureInfo.InvariantCulture, $"{set.PlaceMm:0.###} mm from the low end of its travel");

    private static ImmutableArray<string> Describe(Gate gate, MotionAct.Go go)
    {
        var place = gate.InTravel;
        var lines = ImmutableArray.CreateBuilder<string>();
        foreach (var move in go.Moves)
        {
            var what = string.Create(CultureInfo.InvariantCulture,
                $"{move.Axis} moves {move.Direction}, {Math.Abs(move.DistanceMm):0.###} mm, at {move.SpeedMmPerMin:0.#} mm/min, about {move.Seconds:0.#} s");
            if (place is { } from)
            {
                place = from.With(move.Axis, from[move.Axis] + move.DistanceMm);
                what += string.Create(CultureInfo.InvariantCulture,
                    $"; it ends at {place.Value[move.Axis]:0.###} mm of {gate.Facts.TravelMm[move.Axis]:0.#} mm of travel");
            }
            lines.Add(what + ".");
        }
        if (place is null)
            lines.Add("The position is not trusted: where this ends in the travel is not known. Look.");
        lines.AddRange(AboutStop(gate.Dialect.Stop));
        return lines.ToImmutable();
    }

    /// <summary>What is to be known of STOP before a move: whether Z may sink by it, and how long it takes at worst where it is a line.</summary>
    public static ImmutableArray<string> AboutStop(DialectStop stop) =>
        [.. stop.Drives != DrivesAfterStop.Held ? ["STOP may let the drives go: support Z."] : ImmutableArray<string>.Empty, .. stop.WorstCase is { } worst ? [worst + "."] : ImmutableArray<string>.Empty];

    /// <summary>What is answered while the controller says nothing.</summary>
    public const string Unheard = "the controller has not told its state for more than 1 s";

    /// <summary>What keeps a link shut whose every condition is met: motion that this program did not begin. Null where there is none.</summary>
    public static string? NotOurs(Gate gate) => gate.Report?.State switch
    {
        ControllerState.Moving => "a job not ours is running",
        ControllerState.Held => "a job not ours is paused",
        _ => null,
    };

    private static string Shut(Gate gate) =>
        !gate.Facts.MissingChecks.IsEmpty ? "these checks are not passed yet: " + string.Join(", ", gate.Facts.MissingChecks)
        : !gate.LinkInStep ? "the link is not in step"
        : !gate.IdentityConfirmed ? "it is not certain which machine answers"
        : NotOurs(gate) ?? "the controller has not told that it rests";

    private static string? ByState(Gate gate, MotionAct act)
    {
        if (!MotionTable.Permits(gate.State, act.Permit))
            return gate.State == TrustState.Shut ? Shut(gate) : $"not while the link is {gate.State.ToString().ToLowerInvariant()}";
        // It may show at any moment, and would be taken for what was asked for meanwhile.
        if (gate.UnlockingSince is not null)
            return "an unlocking is under way";
        if (gate.Report is not { } report || gate.Now - gate.ReportAt > MotionTable.AnswerLasts)
            return Unheard;
        var expected = gate.State == TrustState.Locked ? ControllerState.Locked : ControllerState.Resting;
        if (report.State != expected)
            return "the machine is not at rest";
        if (report.Shown is null && act is not MotionAct.Unlock)
            return "the controller has not told its position";
        return act is MotionAct.Go or MotionAct.Home && gate.Facts.PairDiffers
            ? "the two motors of a pair have settings that differ"
            : null;
    }

    private static string? Homing(Gate gate, MotionAct.Home home) =>
        WhyNoHoming(gate.Facts, home.WatchedTest)
        ?? (gate.State == TrustState.Locked && gate.Dialect.Lock(gate.Report!.Alarm) is not { HomingAllowed: true } ? "homing is not allowed in this lock" : null);

    /// <summary>Why the machine is not homed, whatever the controller says, by what is known of it; null where it may be asked for.</summary>
    /// <param name="facts">What is known of it.</param>
    /// <param name="watchedTest">Whether it is the watched slow homing test itself.</param>
    public static string? WhyNoHoming(MotionFacts facts, bool watchedTest)
    {
        if (!facts.HasSwitches)
            return "homing needs a switch on every axis; set the reference places instead";
        if (!facts.Passed.Contains("P22"))
            return "the switches have not passed their check (P22) since the last change";
        if (facts.DirectionChecked.Count < 3)
            return "the direction of every axis is to be checked first (P25)";
        return !watchedTest && !facts.HomingTestPassed ? "the watched slow homing test (P27) comes first" : null;
    }

    private static string? Reference(Gate gate, MotionAct.SetReference set) =>
        gate.Facts.HasSwitches ? "a machine with switches is homed"
        : !(set.PlaceMm >= 0 && set.PlaceMm <= gate.Facts.TravelMm[set.Axis]) ? "the marked place lies outside the travel"
        : set is { Axis: AxisName.Z, PlaceMm: 0 } ? "the reference place of Z is its upper stop: what lies on the bed has no height known here"
        : null;

    private static string? TooLong(Dialect dialect, MotionAct.Go go) => go.Moves.SelectMany(move => MotionLines.Of(dialect, move)).Select(dialect.TooLong).FirstOrDefault(why => why is not null);

    private static string? Untrusted(Gate gate, MotionAct.Go go)
    {
        if (go.Moves.Length != 1)
            return "while the position is not trusted every move has its own box";
        var move = go.Moves[0];
        return Sound(move)
            ?? (Math.Abs(move.DistanceMm) > MotionTable.UntrustedDistanceMm ? "at most 5 mm while the position is not trusted" : null)
            ?? (move.SpeedMmPerMin > Math.Min(gate.Facts.FirstMotionSpeedMmPerMin, go.StepSpeedMmPerMin)
                ? "faster than the first-motion speed while the position is not trusted" : null)
            ?? (move is { Axis: AxisName.Z, DistanceMm: < 0 } && !go.StepSaysDown ? "Z goes only up while the position is not trusted" : null)
            ?? OffTheSwitch(gate, move);
    }

    private static string? Trusted(Gate gate, MotionAct.Go go)
    {
        if (go.Moves.IsEmpty)
            return "there is no move in the list";
        if (go.Moves.Length > 1 && ListTooBold(gate.Facts, go) is { } why)
            return why;
        var place = gate.InTravel!.Value;
        foreach (var move in go.Moves)
        {
            place = place.With(move.Axis, place[move.Axis] + move.DistanceMm);
            if ((Sound(move) ?? OffTheSwitch(gate, move) ?? Fitting(gate, go, move, place[move.Axis])) is { } problem)
                return problem;
        }
        return null;
    }

    private static string? ListTooBold(MotionFacts facts, MotionAct.Go go)
    {
        if (!go.HandsFree)
            return "where a hand is needed inside, every move has its own box";
        if (go.Moves.Length > MotionTable.LongestList || !(go.Seconds <= MotionTable.LongestListS))
            return "one list holds at most 20 moves and 60 s";
        if (go.Moves.FirstOrDefault(move => !facts.Moved.Contains(move.Axis)) is { } first)
            return $"the first move of {first.Axis} since the last change stands alone";
        var up = go.Moves.IndexOf(go.Moves.FirstOrDefault(move => move is { Axis: AxisName.Z, DistanceMm: > 0 })!);
        return up > 0 && go.Moves.Take(up).Any(move => move.Axis != AxisName.Z) ? "Z goes up first in every list" : null;
    }

    private static string? Fitting(Gate gate, MotionAct.Go go, PlannedMove move, double end)
    {
        var placed = gate.State == TrustState.Placed;
        var margin = gate.Facts.MarginMm * (placed ? 2 : 1);
        var speed = go.StepSpeedMmPerMin * (placed ? 0.5 : 1);
        if (!(end >= margin && end <= gate.Facts.TravelMm[move.Axis] - margin))
            return string.Create(CultureInfo.InvariantCulture, $"{move.Axis} would end at {end:0.###} mm, nearer than {margin:0.#} mm to the end of its travel");
        if (!(move.SpeedMmPerMin <= speed))
            return string.Create(CultureInfo.InvariantCulture, $"faster than {speed:0.#} mm/min, the speed this step allows");
        if (move is not { Axis: AxisName.Z, DistanceMm: < 0 })
            return null;
        return go.SurfaceMm is not { } surface ? "Z goes down only in steps that name the surface below it"
            : !(end >= surface + go.ClearanceMm) ? "Z would go below the clearance of this step"
            : null;
    }

    private static string? Sound(PlannedMove move) =>
        double.IsFinite(move.DistanceMm) && double.IsFinite(move.SpeedMmPerMin) && Math.Abs(move.DistanceMm) >= 0.0001 && move.SpeedMmPerMin >= 1
            ? null
            : "a move needs a distance and a speed";

    private static string? OffTheSwitch(Gate gate, PlannedMove move)
    {
        if (!gate.Report!.Pressed.Contains(move.Axis))
            return null;
        if (gate.Facts.BothEnds.Contains(move.Axis) || !gate.Facts.Switched.Contains(move.Axis))
            return $"a switch of {move.Axis} is pressed, and it is not told which";
        return gate.Facts.HomeHigh.Contains(move.Axis) == move.DistanceMm > 0 ? $"the switch of {move.Axis} is pressed: only away from it" : null;
    }
}
