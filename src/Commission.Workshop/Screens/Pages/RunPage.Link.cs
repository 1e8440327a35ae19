using System.Globalization;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Motion;
using Commission.Core.Procedures;
using Commission.Workshop.Controllers;
using Commission.Workshop.Ports;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens.Sheets;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Screens.Pages;

/// <content>What the work does over a link: each move its own box, a write its own.</content>
public sealed partial class RunPage
{
    // How many moves of the step are made: each has its own box.
    private int _moved;

    /// <summary>The axis whose position would tell the reading; null outside readings.</summary>
    public AxisName? Hidden => Session.Run is { Current.Step: Step.Read, Cells: { IsDefaultOrEmpty: false } cells } run && run.NextCell < cells.Length
        && cells[run.NextCell].GoTo is { IsDefaultOrEmpty: false } places ? places[^1].Axis : null;

    /// <summary>Whether the next thing is asked over the link.</summary>
    public bool AsksOverLink => Session.Run.Needs is Need.Motion { Linked: true };

    private bool Linked => Desk.Link is { IsOpen: true };

    /// <summary>Whether its moves were made over the link before it was taken up again.</summary>
    public bool WasOverLink { get; init; }

    /// <summary>How many readings it had when it was taken up again with its questions answered; null where it was begun here.</summary>
    public int? TakenUpWith { get; init; }

    // Said that it goes on by hand; warned that the number typed would.
    private bool _byHand, _warned;

    // A run of the link goes on over the link: nobody has commanded a move to where its next reading is.
    private bool LeadsToLink => WasOverLink && !_byHand && Desk.Link is { IsOpen: false };

    private static (string Next, string Because) ToTheLink => ("Enter or C opens the link; then W, and homing in its own box.", "Because: it moved over the link. By hand a number has its own zero.");

    // The first number typed asks; the second Enter says so in the log. Commanded from somewhere else the readings have another zero: where they cannot have one of their own they are not mixed.
    private bool StaysForLink()
    {
        if (!LeadsToLink)
            return false;
        var (counted, ownZero) = (LeftRun.Counted(Session.Run) > 0, Session.Run.MayHaveOwnZero);
        if (!_warned || (counted && !ownZero))
        {
            _warned = true;
            Desk.Say(counted && !ownZero ? "Not recorded: these readings belong to one set-up. C opens the link." : "Not recorded: C opens the link. Enter again goes on by hand, own zero.");
            return true;
        }

        if (!Desk.Write(new EntryBody.Noted(null, EntryBody.Noted.ByHand) { Machine = Desk.MachineName, Operator = Desk.Operator, Run = Desk.RunningNumber })
            || (counted && Session.Happen(new RunEvent.SetUpDisturbed()) is Outcome<string?>.Bad))
            return true;
        Desk.Refresh();
        _byHand = true;
        return false;
    }

    // The link was opened while the sheet stood: by hand nobody can be at the place any more.
    private bool LinkedMeanwhile()
    {
        if (Desk.GoOn() is not { } again || again == this)
            return false;
        Desk.Show(again);
        Desk.Say("The link is open now: the run goes on over it. Nothing was recorded.");
        return true;
    }

    // Begins with the first sheet that asks: what it is asked for is counted while the sheet stands.
    private TripCounter? Counter(Need.Number number) => number.Counted is { } what && Desk.Link is { IsOpen: true } link ? link.CountFor(Session).For(what) : null;

    // A crash or another change took the checks away that moves rest on: what Enter cannot do is not said to be next.
    private bool ChecksOpen => Desk.Link?.Now?.Gate.Facts.MissingChecks is { IsEmpty: false };

    private void AskMove(Need.Motion motion)
    {
        if (Desk.Link is not { Now: { } now } link)
        {
            Desk.Say("The link is closed. C opens it; or O puts the run aside.");
            return;
        }

        if (motion.Moves.IsEmpty || Desk.ShowsLoss(link))
            return;
        if (motion.Moves.All(move => StepMotion.StandsThere(move, now.Gate)))
        {
            Made(motion.InWords() + ": it stands there already");
            return;
        }

        if (motion.Moves is [var move] && StepMotion.OnTheWay(move, motion.Then, now.Gate))
        {
            Made("on the way of the next move: " + motion.InWords());
            return;
        }

        // Facts may have changed since the gate was told: the reference place is named by a step of this very run.
        if (_moved < motion.Moves.Length && StepMotion.Next(motion.Moves[_moved], link.Informed() ?? now.Gate) is { } next)
            Ask(link, next, motion);
        else
            Desk.Say([StepMotion.WhyNone(now.Gate)]);
    }

    // Where the position is not trusted a step cannot name a target: homing, or the reference places, come first, each with its own box.
    private void Ask(DeskLink link, StepAct next, Need.Motion motion)
    {
        // Trust was lost since the step's first move: its moves begin anew, for the way in to a place is one of them.
        _moved = next.Leads ? 0 : _moved;
        if (next.Leads)
            link.Ask(next.Act, box => Leading(box, next.Act), Led);
        else
            link.Ask(next.Act, box => new MotionPage(Desk, box, $"{Path}{Group}", Moves(motion), Why()) { Undo = TakesBackFromBox ? Undo : null }, how => Moved(how, motion));
    }

    /// <summary>
    /// Asks for what makes the position trusted, where it is not: homing, or without switches each axis at its reference place; a lock that
    /// homing cannot leave is left before. Each by its own box, which moves nothing.
    /// </summary>
    public void TrustFirst()
    {
        if (Desk.Link is not { Now.Gate: { InTravel: null, State: TrustState.Unreferenced or TrustState.Locked } } link || link.Informed() is not { } gate)
            return;
        if (StepMotion.Next(null, gate) is { } next)
            link.Ask(next.Act, box => Leading(box, next.Act), how => Trusted(how, link));
        else
            Desk.Say([StepMotion.WhyNone(gate)]);
    }

    private void Trusted(MotionEnd how, DeskLink link)
    {
        if (how is MotionEnd.Reached && link.Now?.Gate.InTravel is null)
            TrustFirst();
        else
            Led(how);
    }

    private MotionPage Leading(Confirmation box, MotionAct act) =>
        new(Desk, box, Path, MotionPage.Named(act), "Because: the position is not trusted; a step's targets need it.");

    // Where numbers are called the sheet below the box has the keys of the last three.
    private bool TakesBackFromBox => _layout != Layout.Call && Session.Run is { Current: { Step: Step.Read, Name: var step } } run && run.Readings.Any(reading => reading.Stands && reading.Step == step);

    private string Group => Session.Run.Current?.Step is Step.Read read ? " / " + read.Group : "";

    private string Moves(Need.Motion motion) => motion.Cell is { } cell
        ? string.Create(CultureInfo.InvariantCulture, $"move to reading {cell + 1} of {Session.Run.Cells.Length}")
        : Count;

    private string Why() => Session.Run is { Current.Step: Step.Read, Cells: { IsDefaultOrEmpty: false } cells } run && run.NextCell < cells.Length
        ? string.Create(CultureInfo.InvariantCulture, $"Because: reading {run.NextCell + 1} is taken at {cells[run.NextCell].Place}{PlaceName.Side(cells[run.NextCell])}.")
        : "Because: the step asks for it.";

    /// <summary>Nobody knows where the machine stands: its moves to the next reading begin anew.</summary>
    public void PositionLost()
    {
        _moved = 0;
        Said(Session.Happen(new RunEvent.PositionLost()));
    }

    private void Led(MotionEnd how)
    {
        if (how is MotionEnd.Reached && Session.Run.Needs is Need.Motion { Linked: true } motion)
            AskMove(motion);
        else if (how is MotionEnd.Stopped)
            _moved = 0;
    }

    private void Moved(MotionEnd how, Need.Motion motion)
    {
        if (how is MotionEnd.Stopped)
            _moved = 0;
        else if (how is MotionEnd.Reached && ++_moved < motion.Moves.Length)
            AskMove(motion);
        else if (how is MotionEnd.Reached)
            Made(motion.InWords());
    }

    private void Made(string words)
    {
        _moved = 0;
        Desk.Link?.Watch.Brought();
        if (Said(Session.MovesMade(words)) is { } said)
            Desk.Say(said);
        if (Session.Run.Needs is Need.TakeReading)
            Desk.Cue(1);
        After();
    }
}
