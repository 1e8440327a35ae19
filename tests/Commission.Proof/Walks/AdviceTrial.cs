using Commission.App.Rehearsal;
using Commission.Core.Characteristics;
using Commission.Practice.Bench;
using Commission.Practice.Machines;
using Commission.Practice.Operators;

namespace Commission.Proof.Walks;

/// <summary>A machine with one thing wrong, the procedures that find it, and what is done about it.</summary>
/// <param name="Name">What is wrong, in words.</param>
/// <param name="Wrong">Makes the machine.</param>
/// <param name="Procedures">The procedures, in order.</param>
/// <param name="Kind">Kind of the finding that speaks of it; null where checks do.</param>
/// <param name="Error">How wrong it truly is, in the unit of the finding, not negative.</param>
internal sealed record AdviceTrial(string Name, Func<ulong, PracticeBench> Wrong, string[] Procedures, string? Kind, Func<PracticeBench, double> Error)
{
    /// <summary>The axis that is wrong; null where it is none.</summary>
    public AxisName? Axis { get; init; }

    /// <summary>The axis whose finding speaks of it, where the procedure goes over all axes by itself; null for the first finding.</summary>
    public string? FoundOn { get; init; }

    /// <summary>What the owner does by the advice where it is no setting and no shim of the procedure itself; null where the walk has done it.</summary>
    public Action<PracticeBench, Finding?>? Mend { get; init; }

    /// <summary>Procedures by which it is measured again; null for the same.</summary>
    public string[]? Again { get; init; }

    /// <summary>What may be left besides the uncertainty of the first finding, in its unit: what a mended part still has, or the step of an instrument.</summary>
    public double Leaves { get; init; }

    /// <summary>The parameter whose U foretells what is left; null for the headline.</summary>
    public string? Parameter { get; init; }

    /// <summary>Whether the card's own text says what to do, where the headline's verdict does not.</summary>
    public bool TheCardSays { get; init; }

    /// <summary>Measures, does what is advised, measures again.</summary>
    public AdviceOutcome Run(ulong seed)
    {
        var bench = Wrong(seed);
        var before = Error(bench);
        var first = WalkScene.Walked(bench, seed, Procedures, Axis);
        var finding = Kind is null ? null : first.Of(Kind, FoundOn).First();
        Mend?.Invoke(bench, finding);
        var left = Error(bench);
        var second = WalkScene.Walked(bench, seed + 1000, Again ?? Procedures, Axis);
        var half = finding is null ? 0 : (Parameter is null ? finding.Headline : finding.Parameter(Parameter)!).ExpandedUncertainty ?? 0;
        return new AdviceOutcome(before, left, half + Leaves, finding, Kind is null ? null : second.Of(Kind, FoundOn).First(), first, second) { TheCardSays = TheCardSays };
    }
}

/// <summary>How a trial ended.</summary>
/// <param name="Before">How wrong it was.</param>
/// <param name="Left">How wrong it is afterwards.</param>
/// <param name="Foretold">What the first finding says may be left: its U, and what the mended part has.</param>
/// <param name="First">The finding that gave the advice.</param>
/// <param name="Second">The finding afterwards.</param>
/// <param name="Before1">The first walk.</param>
/// <param name="After1">The second walk.</param>
internal sealed record AdviceOutcome(double Before, double Left, double Foretold, Finding? First, Finding? Second, WalkedScene Before1, WalkedScene After1)
{
    // U holds in 95 of 100; half as much again in all but three of a thousand.
    private const double OfU = 1.5;

    // An error so many times larger than what may be left is at least halved.
    private const double Clear = 4;

    /// <summary>Whether the card says what to do, and not the verdict on the headline.</summary>
    public bool TheCardSays { get; init; }

    /// <summary>Why the trial does not show what it should; null where it does.</summary>
    public string? Missed
    {
        get
        {
            if (First is { Advice.Action: AdviceAction.Leave } && !TheCardSays)
                return $"nothing was advised: {First.Advice.Because}";
            if (First is null && Before1.Ends.All(end => end.How == "completed") && Left >= Before)
                return "no check was out and nothing was done";
            if (Left >= Before || (Before > Clear * Foretold && Left > Before / 2))
                return FormattableString.Invariant($"{Before:G4} became {Left:G4}");
            if (Left > OfU * Foretold)
                return FormattableString.Invariant($"{Left:G4} is left, foretold {Foretold:G4}");
            if (Second is { Advice.Action: AdviceAction.FindTheFault } or { Verdict: Verdict.Outside })
                return $"measured again: {Second.Verdict}, {Second.Advice.Because}";
            return Second is null && After1.Ends.Any(end => end.How != "completed") ? "measured again a check is out" : null;
        }
    }
}

/// <summary>The trials: every procedure whose result is an adjustment, or that sends its owner to a part.</summary>
internal static class AdviceTrials
{
    private static readonly AxisDescription Undrawn = PracticeMachine.Heron(1).Description.X with { Drive = DriveKind.Unknown, Grade = null };

    /// <summary>All of them.</summary>
    public static IReadOnlyList<AdviceTrial> All { get; } =
    [
        new("axis scale of an unknown drive", seed => Heron(seed, machine => machine with { Description = machine.Description with { X = Undrawn } },
            state => state with { X = state.X with { TrueStepsPerMm = 320 / 1.0016 } }), ["axis-scale"], "axis-scale", bench => Math.Abs(bench.Machine.ScaleError(AxisName.X))) { Axis = AxisName.X },
        new("axis scale of a belt", seed => Heron(seed, machine => machine with { Description = machine.Description with { Y = Undrawn with { Drive = DriveKind.Belt, TravelPerTurnMm = 40 } } },
            state => state with { Y = state.Y with { TrueStepsPerMm = 320 * 1.003, TravelPerTurnMm = 40 } }), ["axis-scale"], "axis-scale", bench => Math.Abs(bench.Machine.ScaleError(AxisName.Y))) { Axis = AxisName.Y },
        new("a wrong microstep switch", seed => Heron(seed, null, state => state with { X = state.X with { TrueStepsPerMm = 160 } }), ["ratio-check"], "axis-scale", bench => Math.Abs(bench.Machine.ScaleError(AxisName.X)))
        {
            Axis = AxisName.X, Mend = (bench, found) => bench.Rework(state => state with { X = state.X with { TrueStepsPerMm = found!.Advice.Next!.Contains("1/2", StringComparison.Ordinal) ? 320 : 160 } }),
        },
        new("lost motion", seed => Heron(seed, null, state => state with { X = state.X with { ClearanceMm = 0.25, WearShare = 0 } }), ["backlash"], "backlash", bench => Math.Abs(bench.Machine.Reversal(AxisName.X, 210))) { Axis = AxisName.X },
        new("lost motion that differs from place to place", seed => Heron(seed, null, state => state with { Y = state.Y with { ClearanceMm = 0.2, WearShare = 0.15 } }), ["backlash"], "backlash", bench => Math.Abs(bench.Machine.Reversal(AxisName.Y, 20)))
        {
            Axis = AxisName.Y, Leaves = 0.015,
        },
        new("a loose nut, found under a pull", seed => Heron(seed, null, Loose(AxisName.X)), ["stiffness"], "stiffness", bench => bench.Machine.LostMotion(AxisName.X, 210)) { Axis = AxisName.X, Leaves = 0.02, Mend = Tightened(AxisName.X) },
        new("play of Z, found under a lift", seed => Heron(seed, null, Loose(AxisName.Z)), ["z-axis"], "backlash", bench => bench.Machine.LostMotion(AxisName.Z, 45)) { Leaves = 0.02, Mend = Tightened(AxisName.Z) },
        new("play that came back, seen by the short re-check", seed => Heron(seed, null, Loose(AxisName.X)), ["recheck", "backlash"], "backlash", bench => Math.Abs(bench.Machine.Reversal(AxisName.X, 210))) { Axis = AxisName.X, Again = ["recheck"] },
        Gantry("diagonals", "squareness", 0.003),
        Gantry("distance-network", "squareness", 0.003),
        Gantry("plate", "plate", 0.003),
        Gantry("square-reversal", "square-reversal", 0.002),
        new("a gantry that homes askew", seed => Heron(seed, null, Askew(0.0009)), ["plate", "home-offset"], "plate", bench => Math.Abs(bench.Machine.SquarenessXY)) { Again = ["plate"], Leaves = 2e-5, TheCardSays = true },
        new("a leaning spindle", seed => Heron(seed, null, state => state with { Spindle = state.Spindle with { TiltX = 0.0015, TiltY = -0.001 } }), ["tram"], "tram",
            bench => Math.Sqrt(Math.Pow(bench.Machine.State.Spindle.TiltX, 2) + Math.Pow(bench.Machine.State.Spindle.TiltY, 2))),
        new("Z leaning along X", seed => Heron(seed, null, state => state with { Frame = state.Frame with { SquarenessXZ = 0.003 } }), ["z-square"], "square-reversal", bench => Math.Abs(bench.Machine.SquarenessToBed(AxisName.X))),
        new("a bed that is not flat", seed => Heron(seed, null, state => state with { Bed = state.Bed with { CrownMm = 0.8 } }), ["bed-map", "surfacing"], "flatness", BedRange) { Again = ["bed-map"] },
        new("a twisted frame", seed => Heron(seed, null, state => state with { Frame = state.Frame with { TwistMm = 3 } }), ["frame-twist"], null, bench => Math.Abs(bench.Machine.State.Frame.TwistMm)) { Leaves = 0.2 },
        new("rails that spread", seed => Heron(seed, null, state => state with { Frame = state.Frame with { RailSpreadMm = 0.4 } }), ["rails"], null, bench => Math.Abs(bench.Machine.State.Frame.RailSpreadMm))
        {
            Leaves = 0.02,
        },
        new("a switch that scatters", seed => Heron(seed, null, state => state with { X = state.X with { SwitchScatterMm = 0.3 } }), ["homing"], "repeatability", bench => bench.Machine.State.X.SwitchScatterMm)
        {
            Axis = AxisName.X, Leaves = 0.01, Mend = (bench, _) => bench.Rework(state => state with { X = state.X with { SwitchScatterMm = 0.01 } }),
        },
        new("a stop that gives way", seed => Bare(seed, state => state with { X = state.X with { StopScatterMm = 0.3 } }), ["reference-corner"], "repeatability", bench => bench.Machine.State.X.StopScatterMm)
        {
            FoundOn = "X", Leaves = 0.01, Mend = (bench, _) => bench.Rework(state => state with { X = state.X with { StopScatterMm = 0.01 } }),
        },
        new("a dirty collet", seed => Heron(seed, null, state => state with { Spindle = state.Spindle with { RunoutMm = 0.12, RunoutTilt = 0 } }), ["runout"], "runout", bench => 2 * bench.Machine.State.Spindle.RunoutMm)
        {
            Leaves = 0.01, Mend = (bench, _) => bench.Rework(state => state with { Spindle = state.Spindle with { RunoutMm = 0.005 } }),
        },
        new("a coupling out of true", seed => Heron(seed, null, state => state with { X = state.X with { PeriodicAmplitudeMm = 0.15 } }), ["periodic-error"], "periodic", bench => bench.Machine.State.X.PeriodicAmplitudeMm)
        {
            Axis = AxisName.X, Leaves = 0.004, Mend = (bench, _) => bench.Rework(state => state with { X = state.X with { PeriodicAmplitudeMm = 0.004 } }),
        },
        new("switch cables beside the spindle's", seed => Heron(seed, null, state => state with { FalseTripsPerHour = 8 }), ["noise"], "event-rate", bench => bench.Machine.State.FalseTripsPerHour)
        {
            Mend = (bench, _) => bench.Rework(state => state with { FalseTripsPerHour = 0 }),
        },
        new("a speed at which steps are lost", TooFast, ["speed-ladder"], "speed-ladder", LostAtSpeed)
        {
            Axis = AxisName.X,
        },
        new("speed under load after the ladder", TooFast, ["speed-ladder", "speed-under-load"], null, LostAtSpeed) { Axis = AxisName.X, Again = ["speed-under-load"] },
        new("a cutter smaller than it was taken for", seed => Heron(seed, null, state => state with { CutterRadiusErrorMm = 0.12 }), ["test-cut"], "test-cut", bench => Math.Abs(bench.Machine.State.CutterRadiusErrorMm))
        {
            Parameter = "cutterRadiusError", TheCardSays = true, Mend = (bench, found) => bench.Rework(state => state with { CutterRadiusErrorMm = state.CutterRadiusErrorMm - found!.Parameter("cutterRadiusError")!.Value!.Value }),
        },
    ];

    private static AdviceTrial Gantry(string procedure, string kind, double angle) =>
        new($"a gantry askew, found by {procedure}", seed => Heron(seed, null, Askew(angle)), [procedure], kind, bench => Math.Abs(bench.Machine.SquarenessXY));

    // Well above what any class of work allows; tightened, a tenth of it is left.
    private static Func<MachineState, MachineState> Loose(AxisName axis, double clearanceMm = 0.25) => state => axis == AxisName.Z
        ? state with { Z = state.Z with { ClearanceMm = clearanceMm, WearShare = 0 } }
        : state with { X = state.X with { ClearanceMm = clearanceMm, WearShare = 0 } };

    private static Action<PracticeBench, Finding?> Tightened(AxisName axis) => (bench, _) => bench.Rework(Loose(axis, 0.02));

    private static PracticeBench Bare(ulong seed, Func<MachineState, MachineState> wrong)
    {
        var heron = PracticeMachine.Heron(seed).WithoutSwitches();
        return new PracticeBench(heron with { State = wrong(heron.State) }, Hand.Steady, seed);
    }

    private static Func<MachineState, MachineState> Askew(double angle) => state => state with { Frame = state.Frame with { SquarenessXY = angle } };

    private static PracticeBench TooFast(ulong seed)
    {
        var bench = Heron(seed);
        bench.Set(bench.Machine.Settings with { MaxRateMmMin = [8000, 8000, 8000] });
        return bench;
    }

    private static double LostAtSpeed(PracticeBench bench) => Math.Max(0, bench.Machine.Settings.MaxRateMmMin[0] - bench.Machine.State.X.LosesStepsAboveMmMin);

    private static double BedRange(PracticeBench bench)
    {
        double[] shares = [0.05, 0.25, 0.5, 0.75, 0.95];
        double[] heights = [.. from u in shares from v in shares select bench.Machine.BedHeight(u * bench.Machine.State.X.TravelMm, v * bench.Machine.State.Y.TravelMm)];
        return heights.Max() - heights.Min();
    }

    private static PracticeBench Heron(ulong seed, Func<PracticeMachine, PracticeMachine>? described = null, Func<MachineState, MachineState>? wrong = null)
    {
        var heron = PracticeMachine.Heron(seed);
        heron = described?.Invoke(heron) ?? heron;
        return new PracticeBench(heron with { State = wrong?.Invoke(heron.State) ?? heron.State }, Hand.Steady, seed);
    }
}
