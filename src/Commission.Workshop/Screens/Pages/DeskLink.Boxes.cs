using Commission.Core.History;
using Commission.Core.Motion;
using Commission.Workshop.Controllers;
using Commission.Workshop.Ports;
using Commission.Workshop.Screens.Keys;

namespace Commission.Workshop.Screens.Pages;

/// <content>Boxes: asked for, drawn, confirmed, put away; and asked for anew where they were out of sight.</content>
public sealed partial class DeskLink
{
    private (char Letter, long AtMs) _confirmed;
    private (long Sequence, string Words, long? Run)? _begun;
    private MotionAct? _asked;
    private Func<Confirmation, Page>? _page;
    private Action<MotionEnd>? _ended;

    /// <summary>The move under way, for keys: every one of them is STOP.</summary>
    public MoveUnderWay? Moving => Now?.Gate.State == TrustState.Moving ? new MoveUnderWay(_confirmed.Letter, _confirmed.AtMs) : null;

    /// <summary>Asks for a box; the page that shows it covers the desk once the gate has agreed.</summary>
    /// <param name="act">What is asked for.</param>
    /// <param name="page">Makes the page of the box.</param>
    /// <param name="ended">Told how it came out.</param>
    public void Ask(MotionAct act, Func<Confirmation, Page> page, Action<MotionEnd> ended)
    {
        (_asked, _page, _ended) = (act, page, ended);
        AskAnew();
    }

    /// <summary>Asks for the box of last time anew: it was out of sight, and nobody has read it since.</summary>
    public void AskAnew()
    {
        if (_asked is not { } act)
            return;
        // Checks may have passed since.
        Informed();
        _link?.Ask(act);
        Drain();
    }

    /// <summary>The letter of the box was given.</summary>
    public void Confirm(char letter)
    {
        if (!Entered())
        {
            Withdraw();
            desk.Uncover();
            return;
        }

        _confirmed = (letter, _nowMs);
        _link?.Key(letter);
        Drain();
    }

    // Before anything is sent: what a sudden end leaves under way must be known afterwards. What cannot be kept is not sent.
    private bool Entered()
    {
        _begun = null;
        if (Now?.Gate.Box is not { Act: var act } || BegunMove.InWords(act) is not { } words)
            return true;
        var (asked, run) = (desk.Means.Clock.GetTimestamp(), desk.RunningNumber);
        if (!desk.Write(BegunMove.Entry(words, desk.MachineName, run)))
            return false;
        _begun = (desk.Ledger.LastSequence, words, run);
        if (desk.Means.Clock.GetElapsedTime(asked) < BegunMove.LongestEntry)
            return true;
        NotBegun();
        desk.Say("The store took long: nothing was sent. Enter asks for the box again.");
        return false;
    }

    // Refused after it was entered: then nothing is under way.
    private void NotBegun()
    {
        if (_begun is { } begun)
            desk.Write(new EntryBody.Noted(null, EntryBody.Noted.NothingMoved) { Machine = desk.MachineName, Run = begun.Run });
        _begun = null;
    }

    // It rests where the box said: entered here where nobody else has done it, as for homing and for a move on the way.
    private void Over()
    {
        desk.Rested();
        if (_begun is { } begun && desk.Means.Journal.LastEntry?.Sequence == begun.Sequence)
            desk.Write(new EntryBody.Moved(null, begun.Words) { Machine = desk.MachineName, Run = begun.Run });
        _begun = null;
    }

    /// <summary>The box is put away.</summary>
    public void Withdraw() => _link?.Withdraw();

    private void Drawn(Confirmation box)
    {
        if (_page is not { } page)
            return;
        desk.CoverWithBox(page(box));
        // Nobody has seen it: it is void until it is drawn where it can be read.
        if (desk.HidesSheets)
            Withdraw();
    }
}
