using System.Collections.Concurrent;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;
using Commission.Core.Procedures;
using Commission.Practice.Controller;
using Commission.Practice.Machines;
using Commission.Tests;
using Commission.Workshop.Controllers;
using Commission.Workshop.Ports;
using Commission.Workshop.Sessions;

namespace Commission.Proof.Link;

/// <summary>
/// One run of a procedure over the link with one fault in it, carried out by a person who puts right what went wrong and goes on.
/// The board knows where the machine really is, so a reading taken anywhere else is seen.
/// </summary>
internal sealed class FaultRun(Dialect dialect, Procedure procedure, LinkFault fault, int seed) : IDisposable
{
    // The machine runs six times as fast as the clock: long enough for a fault to fall into a move.
    private const double MachineScale = 6;
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(100);

    private readonly Random chance = new((seed * 1000) + (int)fault);
    private readonly ScaledTime time = new(1);
    private readonly MemoryJournal journal = new(StoreNature.Practice, "proof", "proof", TimeProvider.System);
    // Of a run that hangs they are read while it still goes on.
    private readonly ConcurrentQueue<string> violations = [];
    private readonly ConcurrentQueue<string> sentences = [];
    private readonly ControllerBody body = new([60, 60, 60], [30, 30, 30]);
    private PracticeController board = null!;
    private PracticeStream stream = null!;
    private FaultyWire wire = null!;
    private ControllerLink link = null!;
    private LinkMotion motion = null!;
    private ProcedureSession session = null!;
    private volatile bool confirmed;
    private volatile bool happened;
    private int answered;
    private int after;
    private bool trusted;

    // These end a move or take trust away whenever they fall into either; the others may pass by where nothing waits for what they spoil.
    private static readonly LinkFault[] NeverSilent =
    [
        LinkFault.Silence, LinkFault.GreetingInMidRun, LinkFault.RefusalOfAnyKind, LinkFault.AlarmInMidMove, LinkFault.WrongPortSpeed,
        LinkFault.FullOutputBuffer, LinkFault.PositionJump, LinkFault.MovementNotOurs, LinkFault.LieAfterReset, LinkFault.Sleep,
    ];

    /// <summary>The dialect with the time that homing may take, which is the machine's, told in the clock's: the machine runs faster here.</summary>
    public static Dialect InItsTime(Dialect dialect) =>
        dialect with { Motion = dialect.Motion with { LongestHomingS = (int)(dialect.Motion.LongestHomingS / MachineScale) } };

    private static readonly MotionFacts Facts = CommissionedFacts.Heron with { TravelMm = new(60, 60, 60) };

    /// <summary>A few places of one axis, each reached from both sides: all that moves and reads, in eight moves.</summary>
    public static string Procedure => """
        format: commission.procedure/1
        id: places
        title: A few places
        purpose: Moves and reads.
        minutes: 1
        hazards:
          - what: The machine moves.
            do: Hands out.
        steps:
          - name: play
            read:
              grid: {kind: places, axis: chosen, fractions: [0.1, 0.9], pairs: 1}
              group: play
              ask: Read.
          - name: result
            evaluate: {kind: backlash, readings: [play], axis: chosen}
        evaluation: ["Any"]
        abort: ["Any"]
        goodData: ["Any"]
        slips: ["Any"]
        """;

    /// <summary>What was against the rules; empty where nothing was.</summary>
    public IReadOnlyCollection<string> Violations => violations;

    /// <summary>Whether the run came to its end; a busy machine may make one too late.</summary>
    public bool Ended { get; private set; }

    /// <summary>What it waits for and what the link says.</summary>
    public string Where => $"{session?.Needs.GetType().Name}, {link?.Now.Gate.State}, {link?.Now.Gate.Trouble}";

    /// <summary>Whether the fault fell into the run.</summary>
    public bool Happened => happened;

    /// <summary>The sentences that the person was told.</summary>
    public IReadOnlyCollection<string> Sentences => sentences;

    /// <summary>Carries the run to the end of its moving readings.</summary>
    public async Task RunAsync()
    {
        var ends = DateTime.UtcNow + Longest;
        await ConnectAsync().ConfigureAwait(false);
        // Somewhere between the first need and the last but one, and a little after.
        var at = chance.Next(1, 12);
        while (session.Needs is not (Need.Evaluate or Need.Ended))
        {
            if (DateTime.UtcNow > ends)
                break;
            if (!link.Now.Gate.LinkInStep)
            {
                Told(link.Now.Gate.Trouble);
                await ConnectAsync().ConfigureAwait(false);
            }
            else if (!happened && answered >= at)
            {
                _ = HappensAsync(TimeSpan.FromMilliseconds(chance.Next(0, 120)));
                answered = int.MinValue;
            }
            else
            {
                answered++;
                after += happened ? 1 : 0;
                await AnswerAsync().ConfigureAwait(false);
            }
        }

        Ended = session.Needs is Need.Evaluate or Need.Ended;
        TakeViolations();
        await CloseAsync().ConfigureAwait(false);
        if (trusted && after >= 6 && sentences.IsEmpty && NeverSilent.Contains(fault))
            violations.Enqueue("the fault went by and nobody was told");
        foreach (var sentence in sentences.Where(sentence => sentence.Length < 10 || sentence.Any(char.IsControl)))
            violations.Enqueue($"no clear sentence: \"{PlainText.Of(sentence)}\"");
    }

    private async Task AnswerAsync()
    {
        switch (session.Needs)
        {
            case Need.HazardsFirst:
                session.HazardsRead();
                break;
            case Need.Motion asked:
                await MoveAsync(asked).ConfigureAwait(false);
                break;
            case Need.TakeReading asked:
                await ReadAsync(asked).ConfigureAwait(false);
                break;
            case Need.SlipQuestion:
                session.AnswerSlip(SlipAnswer.Keep);
                break;
            default:
                session.Confirm();
                break;
        }
    }

    private async Task MoveAsync(Need.Motion asked)
    {
        if (await ReadWhatHappenedAsync().ConfigureAwait(false))
            return;
        if (motion.AlreadyThere(asked.Moves))
            session.StandsThere();
        else
            await ConfirmAsync(asked.Moves).ConfigureAwait(false);
    }

    private async Task ConfirmAsync(IReadOnlyList<Move> moves)
    {
        var proposed = motion.Propose(moves);
        if (proposed is not Outcome<string>.Good { Value: var token })
        {
            Told(((Outcome<string>.Bad)proposed).Problems[0].What);
            await PutRightAsync().ConfigureAwait(false);
            return;
        }

        confirmed = true;
        var made = await session.MoveAsync(token, CancellationToken.None).ConfigureAwait(false);
        confirmed = false;
        if (made is Outcome<ProcedureRun>.Bad bad)
            bad.Problems.ToList().ForEach(problem => Told(problem.What));
    }

    private async Task ReadAsync(Need.TakeReading asked)
    {
        if (session.WhyNoReading is { } why)
        {
            Told(why);
            if (!await ReadWhatHappenedAsync().ConfigureAwait(false))
            {
                session.PositionLost();
                await PutRightAsync().ConfigureAwait(false);
                if (session.Needs is Need.TakeReading && session.WhyNoReading is not null)
                    await ConfirmAsync([]).ConfigureAwait(false);
            }

            return;
        }

        var really = asked.Cell.GoTo.IsEmpty ? 0 : body.InTravel(asked.Cell.GoTo[^1].Axis) - asked.Cell.GoTo[^1].Mm;
        var accepts = link.Now.Gate.AcceptsReadings;
        if (session.Read("0.01", 0.01) is not Outcome<TakenReading>.Good)
            return;
        if (!accepts && !link.Now.Gate.AcceptsReadings)
            violations.Enqueue("a reading was accepted from a position that was not trusted");
        if (Math.Abs(really) > 0.02)
            violations.Enqueue(string.Create(CultureInfo.InvariantCulture, $"a reading was accepted {really:F3} mm away from its place"));
    }

    /// <summary>Reads what happened and acknowledges it, after putting it right.</summary>
    private async Task<bool> ReadWhatHappenedAsync()
    {
        var read = motion.Losses;
        if (motion.Trouble is not { } trouble)
            return false;
        Told(trouble);
        PutRight();
        if (!await motion.AcknowledgeAsync(read, CancellationToken.None).ConfigureAwait(false))
            await Task.Delay(TimeSpan.FromMilliseconds(100), time).ConfigureAwait(false);
        return true;
    }

    private async Task PutRightAsync()
    {
        PutRight();
        await Task.Delay(TimeSpan.FromMilliseconds(100), time).ConfigureAwait(false);
    }

    // Only what has already shown: a person cannot put right what has not happened.
    private void PutRight()
    {
        if (!happened)
            return;
        stream.Do(one => one.Heal());
        wire.Full = false;
    }

    private void Told(string? sentence)
    {
        if (sentence is not null)
            sentences.Enqueue(sentence);
    }

    private void TakeViolations()
    {
        foreach (var violation in wire.Violations)
            violations.Enqueue(violation);
    }

    private async Task ConnectAsync()
    {
        if (link is not null)
        {
            TakeViolations();
            await CloseAsync().ConfigureAwait(false);
        }

        // The board keeps its place when the cable is put in again; where it restarts, what it shows begins anew.
        board = new PracticeController(dialect, body);
        stream = new PracticeStream(board, time, MachineScale);
        wire = new FaultyWire(stream, dialect, () => confirmed);
        var opened = await ControllerLink.OpenAsync(wire, dialect, Facts, time, CancellationToken.None).ConfigureAwait(false);
        link = opened.Require();
        link.TellIdentity(true);
        await link.HeardAsync(time, CancellationToken.None).ConfigureAwait(false);
        motion = new LinkMotion(link, () => Facts, time);
        session = ProcedureSession.Open(journal, new SessionRequest
        {
            Procedure = procedure,
            ProcedureHash = "proof",
            Machine = HeronMachine.Description with { TravelMm = [60, 60, 60] },
            Axis = AxisName.X,
            Seed = 1,
            Motion = motion,
        }).Require();
    }

    private async Task CloseAsync()
    {
        await link.DisposeAsync().ConfigureAwait(false);
    }

    private async Task HappensAsync(TimeSpan later)
    {
        await Task.Delay(later, time).ConfigureAwait(false);
        while (fault == LinkFault.AlarmInMidMove && !body.Moving && link.Now.Gate.LinkInStep && session.Needs is not (Need.Evaluate or Need.Ended))
            await Task.Delay(TimeSpan.FromMilliseconds(2), time).ConfigureAwait(false);
        // Homing makes good whatever it meets.
        trusted = link.Now.Gate is { State: TrustState.Homed } or { State: TrustState.Moving, Underway.Act: MotionAct.Go };
        happened = true;
        switch (fault)
        {
            case LinkFault.UnpluggedAtACall:
                wire.UnplugAt = wire.Calls + 1 + (seed % 40);
                break;
            case LinkFault.FullOutputBuffer:
                wire.Full = true;
                break;
            case LinkFault.Sleep:
                time.Sleep(TimeSpan.FromSeconds(30), monotonicStandsStill: seed % 2 == 0);
                break;
            case LinkFault.RefusalOfAnyKind:
                stream.Do(one => one.RefuseNext(dialect.Refusals.Keys.ElementAtOrDefault(seed % Math.Max(1, dialect.Refusals.Count)) ?? ""));
                break;
            default:
                stream.Do(one => one.Inject(OnTheBoard(fault)));
                break;
        }
    }

    private static ControllerFault OnTheBoard(LinkFault fault) => fault switch
    {
        LinkFault.Silence => ControllerFault.Silence,
        LinkFault.HalfLine => ControllerFault.HalfLine,
        LinkFault.Noise => ControllerFault.Noise,
        LinkFault.DoubledAcknowledgement => ControllerFault.DoubledAcknowledgement,
        LinkFault.MissingAcknowledgement => ControllerFault.MissingAcknowledgement,
        LinkFault.LateAnswers => ControllerFault.LateAnswers,
        LinkFault.GreetingInMidRun => ControllerFault.Restart,
        LinkFault.AlarmInMidMove => ControllerFault.Alarm,
        LinkFault.WrongPortSpeed => ControllerFault.WrongSpeed,
        LinkFault.Flood => ControllerFault.Flood,
        LinkFault.PositionJump => ControllerFault.PositionJump,
        LinkFault.MovementNotOurs => ControllerFault.StrangeMove,
        LinkFault.LieAfterReset => ControllerFault.LieAfterReset,
        _ => throw new System.Diagnostics.UnreachableException(),
    };

    public void Dispose() => journal.Dispose();
}
