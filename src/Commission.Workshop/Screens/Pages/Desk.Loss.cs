using System.Globalization;
using Commission.Core;
using Commission.Core.Motion;
using Commission.Workshop.Controllers;

namespace Commission.Workshop.Screens.Pages;

/// <content>Trust that was lost at rest: the controller restarted, an alarm came, drives were switched, a crash was told.</content>
public sealed partial class Desk
{
    private (int Losses, DateTimeOffset? Opened) _told;

    /// <summary>A move outside runs that a sudden end left under way before this program began; null where there is none, or where one has ended since.</summary>
    public BegunMove? UnderWay { get; private set; }

    /// <summary>A move has come to its end where the box said: what was under way before is over.</summary>
    public void Rested() => UnderWay = null;

    // What nobody asked for and everybody must know. A run tells of its own move itself.
    private void SayAtStart()
    {
        UnderWay = BegunMove.LeftOpen(Means.Journal, MachineName) is { Run: null } begun ? begun : null;
        if (NotWritten is { } why)
            Say([new Problem(why, "What is on the disk can be read")]);
        else if (UnderWay is { } move)
            Say(string.Create(CultureInfo.InvariantCulture, $"Begun {move.At:HH:mm} and not known to have ended: {move.Words}. Look at the machine."));
    }

    private DateTimeOffset? _lost;

    private StopPage? _unanswered;

    // A cable that is out at rest: said once, whatever is shown; nothing that is typed is lost by it.
    private bool TellLost(DeskLink link)
    {
        if (link.Lost is not { } why || _lost == link.OpenedAt)
            return false;
        _lost = link.OpenedAt;
        if (_page is MotionPage)
            Uncover();
        Running?.PositionLost();
        // These two say themselves what is certain then, and what is not.
        if (_page is not (WritePage or StopPage))
            Say($"The link is lost: {why.Split(':')[0]}. {(_page is RunPage { AsksOverLink: true } ? "Nothing more is sent." : "C says what to do.")}");
        return true;
    }

    // Told once by itself over whatever is shown, so that nothing typed there is lost; afterwards where a move is asked for.
    private bool TellLoss(DeskLink link)
    {
        if (link.Now?.Gate is { State: TrustState.Stopped or TrustState.Shut, Trouble: not null } told && _page is StopPage stop && stop.TakeIn(told))
            return true;
        if (link.Now?.Gate is not { State: TrustState.Stopped } gate || _told == (gate.Losses, link.OpenedAt) || IsHeld || _page is LossPage or WritePage || _under.Any(page => page is WritePage))
            return false;
        _told = (gate.Losses, link.OpenedAt);
        // What was said before is not about this, and would stand where its reason belongs.
        _message = null;
        if (_page is MotionPage)
            Uncover();
        Running?.PositionLost();
        return ShowsLoss(link);
    }

    /// <summary>Whether a STOP waits for its answer on the sheet, or below it: no place is gone to before.</summary>
    public bool IsHeld => _page is StopPage || _under.Any(under => under is StopPage);

    // However its sheet is left: until it is answered it comes again where a move is asked for.
    private void ShowStop(string why) => Show(_unanswered = new StopPage(this, why));

    /// <summary>The answer to a STOP could not be kept: its sheet is not shown again by itself, but where a move is asked for.</summary>
    public void Unanswered() => _told = (Link?.Now?.Gate.Losses ?? 0, Link?.OpenedAt);

    /// <summary>The answer to the last STOP is kept.</summary>
    public void Answered() => _unanswered = null;

    /// <summary>Shows what happened and waits to be read, where something does: nothing is sent before.</summary>
    public bool ShowsLoss(DeskLink link)
    {
        if (link.Now?.Gate is not { State: TrustState.Stopped, Trouble: { } why } gate)
            return false;
        Cover((Page?)_unanswered ?? new LossPage(this, why, gate.Losses));
        return true;
    }
}
