using System.Globalization;
using Commission.Core.Machines;
using Commission.Core.Motion;
using Commission.Core.Procedures;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Screens.Pages;

/// <content>What the work does over a link: each move its own box, a write its own.</content>
public sealed partial class RunPage
{
    /// <summary>The axis whose position would tell the reading; null outside readings.</summary>
    public AxisName? Hidden => Session.Run is { Current.Step: Step.Read, Cells: { IsDefaultOrEmpty: false } cells } run && run.NextCell < cells.Length
        && cells[run.NextCell].GoTo is { IsDefaultOrEmpty: false } places ? places[^1].Axis : null;

    private bool Linked => Desk.Link is { IsOpen: true };

    private void AskMove(Need.Motion motion)
    {
        if (Desk.Link is not { Now: { } now } link)
        {
            Desk.Say("The link is closed. C opens it; or O puts the run aside.");
            return;
        }

        if (motion.Moves is not [var move, ..])
            return;
        // Where the position is not trusted a step cannot name a target: the machine homes first, with its own box.
        if (move is Move.To && now.Gate.InTravel is null && now.Gate.State is TrustState.Unreferenced or TrustState.Locked)
        {
            link.Ask(new MotionAct.Home(), box => new MotionPage(Desk, box, Path, "homing", "Because: the position is not trusted; a step's targets need it."), how => Homed(how));
            return;
        }

        if (LinkWords.Act(motion.Moves, now.Gate) is { } act)
            link.Ask(act, box => new MotionPage(Desk, box, $"{Path}{Group}", Moves(motion), Why()), how => Moved(how, motion));
        else if (now.Gate.InTravel is not null)
            Made(Words(motion) + ": it stands there already");
        else
            Desk.Say($"Nothing moves: {LinkWords.Why(now.Gate)}. C shows what is missing.");
    }

    /// <summary>Asks for homing where the position is not trusted: by its own box, which moves nothing.</summary>
    public void HomeFirst()
    {
        if (Desk.Link is { Now.Gate: { InTravel: null, State: TrustState.Unreferenced or TrustState.Locked } } link)
            link.Ask(new MotionAct.Home(), box => new MotionPage(Desk, box, Path, "homing", "Because: the position is not trusted; a step's targets need it."), Homed);
    }

    private string Group => Session.Run.Current?.Step is Step.Read read ? " / " + read.Group : "";

    private string Moves(Need.Motion motion) => motion.Cell is { } cell
        ? string.Create(CultureInfo.InvariantCulture, $"move to reading {cell + 1} of {Session.Run.Cells.Length}")
        : Count;

    private string Why() => Session.Run is { Current.Step: Step.Read, Cells: { IsDefaultOrEmpty: false } cells } run && run.NextCell < cells.Length
        ? string.Create(CultureInfo.InvariantCulture, $"Because: reading {run.NextCell + 1} is taken at {cells[run.NextCell].Place}{Side(cells[run.NextCell])}.")
        : "Because: the step asks for it.";

    private void Homed(MotionEnd how)
    {
        if (how is MotionEnd.Reached && Session.Run.Needs is Need.Motion { Linked: true } motion)
            AskMove(motion);
    }

    private void Moved(MotionEnd how, Need.Motion motion)
    {
        if (how is MotionEnd.Reached)
            Made(Words(motion));
    }

    private static string Words(Need.Motion motion) => string.Join("; ", motion.Moves.Select(move => move.Words));

    private void Made(string words)
    {
        if (Said(Session.MovesMade(words)) is { } said)
            Desk.Say(said);
        if (Session.Run.Needs is Need.TakeReading)
            Desk.Cue(1);
        After();
    }

    // On the medium before anything else; what follows waits until the page of the write is left.
    private void Written()
    {
        Said(Session.Happen(new RunEvent.ChangeTold(null)));
        Desk.Refresh();
    }

    private void PlanWrite(Need.Change change)
    {
        if (change.Finding.Advice.Setting is not { Name: "stepsPerMm", Axis: not null } setting)
        {
            Desk.Say("This one is set at the machine. Type the value it holds now, then Enter.");
            return;
        }

        SettingDeeds.Box(Desk, Desk.Link!, setting, $"{Desk.MachineName} / findings / {Called} / set", Written, After);
    }
}
