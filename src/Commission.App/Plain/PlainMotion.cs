using System.Collections.Immutable;
using Commission.App.CommandLine;
using Commission.Core;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Workshop.Sessions;

namespace Commission.App.Plain;

/// <content>Moves over a link, each with its own box, and what is asked before a reading can count.</content>
internal sealed partial class PlainFront
{
    private async Task<Outcome<ProcedureRun>> MotionAsync(ProcedureSession session, Need.Motion need, CancellationToken cancellation)
    {
        var motion = session.Motion!;
        if (WhyNoMotion is { } why) return Refused([new Problem(why, "Run it in a terminal, or add --attended while somebody stands at the machine")]);
        if (motion.Trouble is not null) return await AcknowledgingAsync(session, motion, need.Step, cancellation).ConfigureAwait(false);
        if (motion.AlreadyThere(need.Moves)) return session.StandsThere();
        if (need.Moves is [var move] && motion.OnTheWay(move, need.Then)) return session.OnTheWay();
        foreach (var line in Lines(need.Text)) Say(line);
        var words = need.InWords();
        return await BoxedAsync(session, motion, need.Step, need.Moves, words, cancellation).ConfigureAwait(false);
    }

    /// <summary>A reading cannot be accepted now: what happened is read first; a lock is left by an act of its own; else the run is put aside.</summary>
    private async Task<Outcome<ProcedureRun>> UnreadyAsync(ProcedureSession session, string step, string why, CancellationToken cancellation)
    {
        var motion = session.Motion!;
        if (motion.Trouble is not null) return await AcknowledgingAsync(session, motion, step, cancellation).ConfigureAwait(false);
        var run = session.PositionLost();
        if (session.Needs is Need.Motion || session.WhyNoReading is null) return run;
        return WhyNoMotion is { } nobody
            ? Refused([new Problem($"no reading can be accepted: {why}", $"Bring the controller to rest first; {nobody}")])
            : await BoxedAsync(session, motion, step, [], $"Before readings: {why}", cancellation).ConfigureAwait(false);
    }

    private async Task<Outcome<ProcedureRun>> BoxedAsync(
        ProcedureSession session, IMotion motion, string step, IReadOnlyList<Move> moves, string words, CancellationToken cancellation)
    {
        // The second that a confirmation lasts begins with the answer; the box is drawn when the prompt is.
        if (ThrowAwayTyped?.Invoke() is > 0 and var dropped)
            Say(string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{dropped} lines typed before this prompt are not used."));
        var proposed = motion.Propose(moves);
        if (proposed is not Outcome<string>.Good { Value: var token })
        {
            // A board that restarts after STOP may greet only now: that is to be read like any other trouble, and ends nothing.
            return motion.Trouble is not null
                ? await AcknowledgingAsync(session, motion, step, cancellation).ConfigureAwait(false)
                : Refused(((Outcome<string>.Bad)proposed).Problems);
        }

        var box = motion.Box.IsEmpty ? words + "." : Words.Clean(string.Join(' ', motion.Box));
        if (!motion.Box.IsEmpty) Say($"For: {words}.");
        var answer = Prompt(session, MotionKind, step, $"{Practice}{box} {Typing(token)}, Q to put the run aside. {token}", aside: "put aside before a move");
        if (answer == token) return await session.MoveAsync(token, cancellation).ConfigureAwait(false);
        motion.Withdraw();
        if (answer is null) return session.Run;
        return new Problem("nothing moved: that is not what confirms this move", $"Type exactly: {token}");
    }

    // Not everything that is confirmed moves.
    private static string Typing(string token) => token switch
    {
        "unlock" => "Type the word at the end to unlock",
        _ when token.StartsWith("set ", StringComparison.Ordinal) => "Type the words at the end when it stands there",
        _ => "Type the words at the end to move",
    };

    private async Task<Outcome<ProcedureRun>> AcknowledgingAsync(ProcedureSession session, IMotion motion, string step, CancellationToken cancellation)
    {
        // Counted before it is read: what happens from here on is not among what the answer says was read.
        var losses = motion.Losses;
        if (motion.Trouble is not { } trouble) return session.PositionLost();
        var before = $"Stopped: {OneLine(trouble)}. The position is not trusted. Look at the machine";
        if (motion.StopPressed) return await AfterStopAsync(session, motion, (step, before, trouble, losses), cancellation).ConfigureAwait(false);
        return Prompt(session, "confirm", step, $"{before}; yes or S when you have read this, no puts the run aside. If something was hit or jammed, tell it after this run: commission history change crash.", NotBeforeItIsRead, aside: AsideAfterStop(trouble)) switch
        {
            null => session.Run,
            var answer when PlainWords.IsSo(answer) => await ReadAsync(session, motion, losses, cancellation).ConfigureAwait(false),
            var answer when PlainWords.IsNo(answer) => session.Leave("put-aside", AsideAfterStop(trouble)),
            var answer => Unclear(session, answer),
        };
    }

    // After STOP it is asked what was seen, as on the screens; whoever does not say leaves it not known.
    private async Task<Outcome<ProcedureRun>> AfterStopAsync(ProcedureSession session, IMotion motion, (string Step, string Before, string Trouble, int Losses) asked, CancellationToken cancellation)
    {
        var text = $"{asked.Before}, then say what happened: A a false alarm, nothing touched anything; S something was hit, jammed or sounded wrong, all results are suspect; O not known, treated like S; Q puts the run aside. Empty for O.";
        if (Prompt(session, "choose", asked.Step, text, NotBeforeItIsRead, aside: AsideAfterStop(asked.Trouble)) is not { } answer) return session.Run;
        if (Is(answer, "no")) return session.Leave("put-aside", AsideAfterStop(asked.Trouble));
        var seen = answer.Length == 0 || IsYes(answer) ? StopAnswer.NotKnown : StopAnswer.All.FirstOrDefault(one => Is(answer, one.Key.ToString()));
        if (seen is null) return Unclear(session, answer);
        // What came meanwhile is not what the answer is about: it is asked again, with all of it.
        if (motion.Losses != asked.Losses) return More;
        return session.StopSeen(Words.Clean(asked.Trouble), seen) is Outcome<ProcedureRun>.Bad bad ? bad : await ReadAsync(session, motion, asked.Losses, cancellation).ConfigureAwait(false);
    }

    private static string AsideAfterStop(string trouble) => "put aside after a stop: " + Words.Clean(trouble);

    private static Outcome<ProcedureRun> NotBeforeItIsRead() => new Problem("nothing is taken back before what happened is read", "Answer what the question asks");

    private static Problem More => new("more has happened since that was written", "Read the next prompt; it says all of it");

    private static async Task<Outcome<ProcedureRun>> ReadAsync(ProcedureSession session, IMotion motion, int losses, CancellationToken cancellation) =>
        await motion.AcknowledgeAsync(losses, cancellation).ConfigureAwait(false) ? session.PositionLost()
            : motion.Losses != losses ? More
            : new Problem("the controller is not at rest", "Wait until the machine rests; look at the cable where it stays silent");

    private Outcome<ProcedureRun> Refused(ImmutableArray<Problem> problems)
    {
        ended = problems.Any(problem => problem.IsFailure) ? ExitCode.Failed : ExitCode.BadRequest;
        Say("The run is kept as it stands: started again it goes on from here.");
        return new Outcome<ProcedureRun>.Bad(problems);
    }
}
