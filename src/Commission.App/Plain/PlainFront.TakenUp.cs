using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.Procedures;
using Commission.Workshop.Sessions;

namespace Commission.App.Plain;

/// <content>A run that is taken up again: what is on disk, its hazards once more, and what only a person can tell of the time between.</content>
internal sealed partial class PlainFront
{
    private enum Went
    {
        On,
        Back,
        Out,
    }

    // Before it goes on U goes back to the question before, and takes nothing back.
    private bool takingUp;

    // What is told of the readings agrees with the number that each was recorded under.
    private void TellLeft(ProcedureRun run, LeftRun left)
    {
        var (began, ended) = left.Times(today: null);
        Say(left.PutAside ? $"Taken up again: the run of {began}, put aside at {ended}." : $"Taken up again: the run of {began}. It ended without being closed, at {ended}.");
        var stand = LeftRun.Counted(run);
        var rest = run.Readings.Length - stand;
        var earlier = run.Readings.Count(reading => reading.Stands) - stand;
        var others = rest == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $" {run.Readings.Length} were recorded in all: {(earlier > 0 ? $"{earlier} of steps before" : "")}{(earlier > 0 && rest > earlier ? ", " : "")}{(rest > earlier ? $"{rest - earlier} replaced or taken back" : "")}.");
        Say(run.Needs is Need.TakeReading or Need.Motion { Cell: not null } or Need.SlipQuestion
            ? string.Create(CultureInfo.InvariantCulture, $"On disk and checked: {stand} of {run.Cells.Length} readings of this step.{others}")
            : string.Create(CultureInfo.InvariantCulture, $"On disk and checked: all up to step {run.StepNumber} of {run.StepCount}.{others}"));
        if (run.Setting.Link) Say("It goes on over the link: the position is not trusted yet, and each move has its own box.");
    }

    private void TakeUpAgain(ProcedureSession session, LeftRun left)
    {
        var run = session.Run;
        if (session.Needs is Need.HazardsFirst or Need.Ended) return;
        SinceThen? off = null, untouched = null;
        var byHand = left.WasOverLink && session.Motion is null;
        ImmutableArray<Func<Went>> questions =
        [
            () => HazardsAgain(session),
            .. byHand ? (ReadOnlySpan<Func<Went>>)[() => ByHand(session)] : [],
            .. LeftRun.Asks(run) && LeftRun.HangsOnPower(run) ? (ReadOnlySpan<Func<Went>>)[() => Since(session, "power", LeftRun.PowerQuestion(left.Times(today: null).Ended), answer => off = answer)] : [],
            .. LeftRun.Asks(run) ? (ReadOnlySpan<Func<Went>>)[() => Since(session, "set-up", LeftRun.SetUpQuestion(run), answer => untouched = answer)] : [],
            () => ZeroOfItsOwn(run, off, untouched, byHand) && !run.MayHaveOwnZero ? OneSetUp(session) : Went.On,
        ];
        takingUp = true;
        var all = AllAsked(questions);
        takingUp = false;
        if (!all) return;
        var ownZero = ZeroOfItsOwn(run, off, untouched, byHand);
        if (Bad(session.GoOn(LeftRun.Note(off, untouched), byHand, ownZero))) return;
        if (ownZero) Say("From here on a zero of its own: the readings before stay good.");
        if (session.Motion is null && run.GoesToPlaces && (session.UnderWay is not null || (off ?? SinceThen.No) is not SinceThen.No))
            Say("Home the machine first, by its own controller: " + (session.UnderWay is null ? "without power a motor may settle up to 0.05 mm off." : "where the move ended is not known."));
    }

    // U goes back to the question before: nothing is kept before the last one is answered.
    private static bool AllAsked(ImmutableArray<Func<Went>> questions)
    {
        for (var at = 0; at < questions.Length;)
        {
            var went = questions[at]();
            if (went is Went.Out) return false;
            at = Math.Max(0, at + (went is Went.On ? 1 : -1));
        }

        return true;
    }

    private static bool ZeroOfItsOwn(ProcedureRun run, SinceThen? off, SinceThen? untouched, bool byHand) =>
        LeftRun.Asks(run) && LeftRun.Counted(run) > 0 && (byHand || !LeftRun.ZeroHolds(off ?? SinceThen.No, untouched ?? SinceThen.Yes));

    private Went HazardsAgain(ProcedureSession session)
    {
        before.Clear();
        TellHazards(session.Run.Procedure.Hazards);
        return Asks(session, "confirm", "hazards", HazardsAsked, HazardsNotConfirmed, answer => PlainWords.IsSo(answer) ? true : PlainWords.IsNo(answer) ? false : null);
    }

    private Went ByHand(ProcedureSession session)
    {
        var zero = LeftRun.Counted(session.Run) > 0 && session.Run.MayHaveOwnZero ? ", and what follows gets a zero of its own" : "";
        return Asks(
            session, "confirm", "by-hand",
            $"Its moves were made over the link, and none is open now. Go on by hand? You command each move{zero}. yes or S goes on by hand, no puts the run aside: started again with a port it goes on over the link.",
            "put aside until the link is open", answer => PlainWords.IsSo(answer) ? true : PlainWords.IsNo(answer) ? false : null);
    }

    private Went Since(ProcedureSession session, string name, string question, Action<SinceThen> answered) =>
        Asks(session, "choose", name, $"{question} One of: {string.Join(", ", LeftRun.Answers)}; empty for not sure.", AsideByOperator, answer =>
        {
            SinceThen? given = PlainWords.IsSo(answer) ? SinceThen.Yes : PlainWords.IsNo(answer) ? SinceThen.No : answer.Length == 0 || Is(answer, LeftRun.Answers[2]) ? SinceThen.NotSure : null;
            if (given is { } one) answered(one);
            return given is null ? null : true;
        });

    private Went OneSetUp(ProcedureSession session)
    {
        var count = LeftRun.Counted(session.Run);
        var text = string.Create(CultureInfo.InvariantCulture, $"These readings belong to one set-up, and by these answers it may be another one now. R begins anew: the {count} on disk stay in the log, unused. U asks again. Q puts the run aside. Empty for Q.");
        return Asks(session, "choose", "one-set-up", text, AsideByOperator, answer =>
        {
            if (answer.Length == 0 || IsYes(answer)) PutAside(session, AsideByOperator);
            else if (!Is(answer, "r")) return null;
            else if (!Bad(session.Leave("aborted", "read all again")))
                Say($"Begin it anew: procedure run {session.Run.Procedure.Id}{(session.Run.Procedure.ForOneAxis ? $" --axis {session.Run.Setting.Axis}" : "")}.");
            return true;
        });
    }

    // Until it is answered: true goes on, false puts the run aside, null asks again.
    private Went Asks(ProcedureSession session, string kind, string name, string text, string aside, Func<string, bool?> taken)
    {
        again = false;
        while (ended is null && session.Needs is not Need.Ended && !stopping.IsCancellationRequested)
        {
            var back = false;
            var answer = Prompt(session, kind, name, text, () => { back = true; return session.Run; }, aside: aside);
            if (back) return Went.Back;
            if (answer is null) continue;
            switch (taken(answer))
            {
                case true: return session.Needs is Need.Ended ? Went.Out : Went.On;
                case false: PutAside(session, aside); return Went.Out;
                default:
                    Unclear(session, answer);
                    unclear = false;
                    break;
            }
        }

        return Went.Out;
    }
}
