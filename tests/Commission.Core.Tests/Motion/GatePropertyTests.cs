using System.Collections.Immutable;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;
using Commission.Tests;
using CsCheck;

namespace Commission.Core.Tests.Motion;

/// <summary>Over any sequence of operator acts, answers and faults: nothing moves outside the table, nothing after a fault before a new confirmation.</summary>
public class GatePropertyTests
{
    private static readonly ImmutableArray<MotionAct> Acts =
    [
        Bench.Go(AxisName.X, -25), Bench.Go(AxisName.X, 25), Bench.Go(AxisName.X, 2, 100), Bench.Go(AxisName.Z, -2, 100), Bench.Go(AxisName.Y, -250),
        new MotionAct.Go([new(AxisName.X, -25, 600), new(AxisName.X, 25, 600), new(AxisName.Y, -10, 600)], 600) { HandsFree = true },
        new MotionAct.Home(), new MotionAct.Home(true), new MotionAct.Unlock(),
        new MotionAct.SetReference(AxisName.X, 200), new MotionAct.SetReference(AxisName.Y, 200), new MotionAct.SetReference(AxisName.Z, 60),
    ];

    /// <summary>One thing that happens; the gate is at hand so that likely answers are as frequent as unlikely ones.</summary>
    private delegate GateEvent Happening(Gate gate, TimeSpan at);

    private static readonly Gen<Happening> Helpful = Gen.OneOf<Happening>(
        Gen.Const<Happening>((_, at) => new GateEvent.Passed(at)),
        Gen.Const<Happening>((_, at) => new GateEvent.InStep(at)),
        Gen.Const<Happening>((_, at) => new GateEvent.IdentityTold(at, true)),
        Gen.Int[0, Acts.Length - 1].Select<int, Happening>(which => (_, at) => new GateEvent.Asked(at, Acts[which])),
        Gen.Const<Happening>((gate, at) => new GateEvent.TokenTyped(at, gate.Box?.Token ?? "go X+25")),
        Gen.Const<Happening>((gate, at) => new GateEvent.KeyTyped(at, gate.Box?.Letter ?? 'X')),
        Gen.Char["XYZH\r 0123456789.,-+abc"].Select<char, Happening>(key => (_, at) => new GateEvent.KeyTyped(at, key)),
        Gen.String["go XYZ+-25home\r"].Select<string, Happening>(text => (_, at) => new GateEvent.TokenTyped(at, text)),
        Gen.Const<Happening>((_, at) => new GateEvent.Left(at)),
        Gen.Const<Happening>((_, at) => new GateEvent.Accepted(at)),
        Gen.Const<Happening>((gate, at) => new GateEvent.Reported(at, Expected(gate))),
        Gen.Const<Happening>((gate, at) => new GateEvent.Reported(at, Expected(gate))),
        Gen.Const<Happening>((_, at) => new GateEvent.Understood(at, 'S')));

    private static readonly Gen<Happening> Harmful =
        Gen.Select(Gen.Int[0, 11], Gen.Double[-30, 30]).Select<(int, double), Happening>(pair => (gate, at) => Unlikely(gate, at, pair.Item1, pair.Item2));

    /// <summary>What a patient operator would see: asked, confirmed, left, taken, ended. Random events alone would rarely get so far.</summary>
    private static readonly Gen<Happening[]> Smooth = Gen.Int[0, Acts.Length - 1].Select<int, Happening[]>(which =>
    [
        (gate, at) => new GateEvent.Reported(at, Expected(gate)),
        (_, at) => new GateEvent.Asked(at, Acts[which]),
        (gate, at) => new GateEvent.TokenTyped(at, gate.Box?.Token ?? "nothing"),
        (_, at) => new GateEvent.Left(at),
        (_, at) => new GateEvent.Accepted(at),
        (gate, at) => new GateEvent.Reported(at, Expected(gate)),
    ]);

    private static readonly Happening[] Opening =
    [
        (_, at) => new GateEvent.InStep(at),
        (_, at) => new GateEvent.IdentityTold(at, true),
    ];

    private static readonly Gen<Happening> Beginning = Gen.Bool.Select<bool, Happening>(locked => (_, at) => new GateEvent.Reported(at,
        StateReport.Of(locked ? ControllerState.Locked : ControllerState.Resting, new(0, 0, 0), locked ? "1" : null)));

    private static readonly Gen<Happening[]> Events = Gen.Select(Beginning, Gen.Frequency(
        (6, Smooth), (8, Helpful.Select<Happening, Happening[]>(one => [one])), (1, Harmful.Select<Happening, Happening[]>(one => [one]))).Array[5, 40])
        .Select<Happening, Happening[][], Happening[]>((first, rest) => [.. Opening, first, .. rest.SelectMany(one => one)]);

    private static readonly Gen<(Happening What, double After)[]> Stories =
        Gen.Select(Events, Gen.Frequency((60, Gen.Double[0, 0.4]), (4, Gen.Double[0.4, 1.2]), (1, Gen.Double[1.2, 7])).Array[250])
        .Select<Happening[], double[], (Happening, double)[]>((events, gaps) => [.. events.Take(250).Select((what, i) => (what, gaps[i]))]);

    private static StateReport Expected(Gate gate)
    {
        var shown = gate.Report?.Shown ?? new(0, 0, 0);
        return gate.Underway switch
        {
            { Act: MotionAct.Home, Accepted: true } => StateReport.Of(ControllerState.Resting, gate.Facts.HomeShown ?? new(-1, -1, -1)),
            { Accepted: true, Rest: [var move, ..] } u => StateReport.Of(ControllerState.Resting, u.Start.With(move.Axis, u.Start[move.Axis] + move.DistanceMm)),
            { } u => StateReport.Of(ControllerState.Moving, u.Start),
            null when gate.State == TrustState.Locked => StateReport.Of(ControllerState.Locked, shown, gate.Report?.Alarm),
            null => StateReport.Of(ControllerState.Resting, shown),
        };
    }

    private static GateEvent Unlikely(Gate gate, TimeSpan at, int which, double number) => which switch
    {
        0 => new GateEvent.Lost(at, "unplugged"),
        1 => new GateEvent.Greeted(at),
        2 => new GateEvent.RefusedLine(at, "refused"),
        3 => new GateEvent.Faulted(at, "half a line"),
        4 => new GateEvent.StopPressed(at, "STOP"),
        5 => new GateEvent.TrustLost(at, "crash"),
        6 => new GateEvent.Reported(at, StateReport.Of(ControllerState.Locked, null, number > 0 ? "1" : "2")),
        7 => new GateEvent.Reported(at, StateReport.Of(ControllerState.Resting, new(number, 0, -number))),
        8 => new GateEvent.Reported(at, StateReport.Of(number > 0 ? ControllerState.Moving : ControllerState.Unknown, gate.Report?.Shown)),
        9 => new GateEvent.Voided(at),
        10 => new GateEvent.IdentityTold(at, number > -10),
        _ => new GateEvent.FactsTold(at, number > 10 ? Bench.Facts with { Passed = [] } : number > -10 ? Bench.Facts with { Switched = [], HomeHigh = [] } : Bench.Facts),
    };

    private static void Tell(int count, Action<(Happening What, double After)[]> walk) => Stories.SampleFixed(walk, count);

    [Fact]
    public void Nothing_moves_outside_the_table_and_nothing_after_a_fault_before_a_new_confirmation() => Tell(1500, story =>
    {
        foreach (var dialect in new[] { Dialects.Bytes, Dialects.Lines })
            Walk(story, dialect);
    });

    /// <summary>The stories are worth nothing if none of them moves: most kinds of motion must really occur.</summary>
    [Fact]
    public void The_stories_do_reach_motion()
    {
        var sent = new HashSet<string>();
        Tell(300, story =>
        {
            foreach (var effect in Walk(story, Dialects.Bytes))
                lock (sent)
                    sent.Add(effect.GetType().Name);
        });
        Assert.Empty(new[] { "SendMove", "SendHome", "SendUnlock", "SendStop", "Ended", "Halted" }.Except(sent));
    }

    /// <summary>A story once found: the link says "not sent" of a part that had left; the next part must not follow.</summary>
    [Fact]
    public void Nothing_follows_a_part_that_the_link_says_was_not_sent_though_it_had_left() =>
        Stories.Sample(story => Walk(story, Dialects.Bytes), iter: 1, seed: "bdwH8ctjrB01", threads: 1);

    private static List<GateEffect> Walk((Happening What, double After)[] story, Dialect dialect)
    {
        var gate = new Gate { Dialect = dialect, Facts = Bench.Facts };
        var at = TimeSpan.Zero;
        // The oracle keeps its own book: whether a confirmation stands, in its own words and not by the gate's.
        MotionAct? confirmed = null;
        var all = new List<GateEffect>();
        foreach (var (what, after) in story)
        {
            at += TimeSpan.FromSeconds(after);
            var happened = what(gate, at);
            var before = gate;
            if (IsFault(happened) || after > 5)
                confirmed = null;
            if (before.State != TrustState.Moving && Confirms(before, happened))
                confirmed = before.Box!.Act;
            (gate, var effects) = gate.After(happened);
            foreach (var effect in effects)
                Check(effect, before, happened, confirmed, dialect);
            if (gate.State == TrustState.Stopped || effects.Any(effect => effect is GateEffect.Ended or GateEffect.Halted))
                confirmed = null;
            all.AddRange(effects);
        }
        return all;
    }

    private static bool Confirms(Gate before, GateEvent happened) => happened switch
    {
        GateEvent.TokenTyped typed => typed.Text == before.Box?.Token,
        GateEvent.KeyTyped typed => before.Box is { } box && typed.Key == box.Letter && happened.At - box.DrawnAt >= TimeSpan.FromSeconds(0.5),
        _ => false,
    };

    private static bool IsFault(GateEvent happened) => happened is GateEvent.Lost or GateEvent.Greeted or GateEvent.RefusedLine
        or GateEvent.Faulted or GateEvent.StopPressed or GateEvent.TrustLost or GateEvent.Voided
        or GateEvent.Reported { Report.State: ControllerState.Unknown };

    private static void Check(GateEffect effect, Gate before, GateEvent happened, MotionAct? confirmed, Dialect dialect)
    {
        var (permit, next) = effect switch
        {
            GateEffect.SendMove => (Permit.Move, Permit.NextMove),
            GateEffect.SendHome => (Permit.Home, Permit.Home),
            GateEffect.SendUnlock => (Permit.Unlock, Permit.Unlock),
            _ => (Permit.Read, Permit.Read),
        };
        if (permit == Permit.Read)
            return;
        Assert.NotNull(confirmed);
        Assert.False(IsFault(happened));
        Assert.True(MotionTable.Permits(before.State, before.State == TrustState.Moving ? next : permit), $"{effect} in {before.State}");
        Assert.Equal(permit, confirmed.Permit);
        if (effect is not GateEffect.SendMove sent)
            return;
        var go = Assert.IsType<MotionAct.Go>(confirmed);
        Assert.Contains(go.Moves, move => move.Axis == sent.Move.Axis && Math.Sign(move.DistanceMm) == Math.Sign(sent.Move.DistanceMm)
            && Math.Abs(sent.Move.DistanceMm) <= Math.Abs(move.DistanceMm) && move.SpeedMmPerMin == sent.Move.SpeedMmPerMin);
        Assert.True(sent.Move.Seconds <= (dialect.Stop.How == StopForm.Line ? 3 : 10) + 1e-9);
        if (before.State == TrustState.Unreferenced)
            Assert.True(Math.Abs(sent.Move.DistanceMm) <= 5 && sent.Move.SpeedMmPerMin <= 150 && sent.Move is not { Axis: AxisName.Z, DistanceMm: < 0 });
        Assert.All(MotionLines.Of(dialect, sent.Move), line => Assert.DoesNotContain(line, letter => "MSTmst".Contains(letter)));
    }
}
