using System.Collections.Immutable;
using Commission.App.Rehearsal;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Procedures;
using Commission.Practice.Bench;
using Commission.Practice.Machines;
using Commission.Practice.Operators;
using Commission.Tests;
using Commission.Workshop.Ports;

namespace Commission.Proof.Walks;

/// <summary>A finding of a walk with the procedure it came from.</summary>
/// <param name="Procedure">Id of the procedure.</param>
/// <param name="Axis">The axis of the run; null where it has none.</param>
/// <param name="Finding">The finding.</param>
internal sealed record WalkFinding(string Procedure, string? Axis, Finding Finding)
{
    /// <summary>Whether it says that something is wrong. A ladder always ends in a speed to set: that is its result and no fault.</summary>
    public bool Raises => Finding.Verdict == Verdict.Outside || Finding.Advice.Action == AdviceAction.FindTheFault
        || (Finding.Advice.Action == AdviceAction.Change && Finding.Kind != "speed-ladder");
}

/// <summary>What a walk left behind.</summary>
/// <param name="Results">What was found beside what is true, in the order of the findings' parameters.</param>
/// <param name="Printed">What was printed.</param>
/// <param name="Findings">The findings.</param>
/// <param name="Ends">How each run ended, in order: procedure and word.</param>
internal sealed record WalkedScene(ImmutableArray<WalkResult> Results, string Printed, ImmutableArray<WalkFinding> Findings, ImmutableArray<(string Procedure, string How)> Ends)
{
    /// <summary>Findings of a kind, of one axis where one is named.</summary>
    public IEnumerable<Finding> Of(string kind, string? axis = null) =>
        Findings.Where(found => found.Finding.Kind == kind && (axis is null || found.Axis == axis)).Select(found => found.Finding);
}

/// <summary>Benches and walks that the tests and the long form share.</summary>
internal static class WalkScene
{
    /// <summary>Walks procedures on a bench; only one axis where one is named.</summary>
    public static WalkedScene Walked(PracticeBench bench, ulong seed, IEnumerable<string> ids, AxisName? axis = null)
    {
        using var journal = Journal();
        using var printed = new StringWriter();
        var results = new Walk(journal, printed).Run([.. ids.Select(id => Station(id, axis))], bench, seed).Require();
        var entries = journal.Entries().ToArray();
        var runs = entries.Where(entry => entry.Body is EntryBody.RunStarted).ToDictionary(entry => entry.Sequence, entry => (EntryBody.RunStarted)entry.Body);
        return new WalkedScene(
            results,
            printed.ToString(),
            [.. entries.Select(entry => entry.Body).OfType<EntryBody.FindingMade>().Select(made => new WalkFinding(runs[made.Run!.Value].Procedure, made.Axis ?? made.Place, made.Finding))],
            [.. entries.Select(entry => entry.Body).OfType<EntryBody.RunEnded>().Select(end => (runs[end.Run!.Value].Procedure, end.How))]);
    }

    /// <summary>A practice journal without a medium, whose clock stands: what is walked does not depend on the day.</summary>
    public static MemoryJournal Journal() => new(StoreNature.Practice, "walk", "proof", new StandingClock());

    private sealed class StandingClock : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() => new(2026, 11, 25, 9, 0, 0, TimeSpan.Zero);
    }

    /// <summary>A shipped procedure.</summary>
    public static WalkStation Station(string id, AxisName? axis = null) => new(ShippedProcedures.Read(id), "proof", axis);

    /// <summary>A machine as good as machines get: scales exact, square, level, tight, with a hand and instruments that scatter as always.</summary>
    public static PracticeBench NothingWrong(ulong seed)
    {
        var heron = PracticeMachine.Heron(seed);
        AxisState Exact(AxisName axis) => heron.State[axis] with
        {
            TrueStepsPerMm = HeronMachine.NominalStepsPerMm,
            SlowWaveMm = 0,
            PeriodicAmplitudeMm = 0,
            ClearanceMm = 0.005,
            WearShare = 0,
            FrictionLagMm = 0.002,
            StopScatterMm = 0.01,
        };
        var state = heron.State with
        {
            X = Exact(AxisName.X),
            Y = Exact(AxisName.Y),
            Z = Exact(AxisName.Z),
            DriveWarmerK = 0,
            CutterRadiusErrorMm = 0,
            Frame = new FrameState(0, 0, 0, 0, 0),
            Spindle = heron.State.Spindle with { TiltX = 0, TiltY = 0, RunoutMm = 0.003, RunoutTilt = 0 },
            Bed = new BedState(0, 0, 0, 0),
        };
        return new PracticeBench(heron with { State = state }, Hand.Steady, seed);
    }

    /// <summary>An ordinary machine without a switch on any axis.</summary>
    public static PracticeBench WithoutSwitches(ulong seed) => new(PracticeMachine.Heron(seed).WithoutSwitches(), Hand.Steady, seed);

    /// <summary>A machine without switches and with nothing wrong.</summary>
    public static PracticeBench NothingWrongWithoutSwitches(ulong seed) => new(NothingWrong(seed).Machine.WithoutSwitches(), Hand.Steady, seed);

    /// <summary>How many of so many independent chances of 5 % may come true before it is no longer chance: beyond it lies one case in a thousand (binomial).</summary>
    public static int MostOf(int chances)
    {
        const double rate = 0.05;
        const double rare = 0.001;
        var (term, sum, most) = (Math.Pow(1 - rate, chances), 0.0, 0);
        for (sum = term; 1 - sum > rare; most++)
        {
            term *= rate / (1 - rate) * (chances - most) / (most + 1);
            sum += term;
        }

        return most;
    }
}
