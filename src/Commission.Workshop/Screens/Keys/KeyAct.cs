namespace Commission.Workshop.Screens.Keys;

/// <summary>What a key asks for, decided before anything is done.</summary>
public abstract record KeyAct
{
    private KeyAct()
    {
    }

    /// <summary>Stop the motion now.</summary>
    /// <param name="Pressed">How the key is called.</param>
    public sealed record Stop(string Pressed) : KeyAct;

    /// <summary>The letter of the open box was given: the move or write is confirmed.</summary>
    /// <param name="Letter">The letter.</param>
    public sealed record Confirm(char Letter) : KeyAct;

    /// <summary>Go on to the button of the box, or back from it.</summary>
    public sealed record ReachButton : KeyAct;

    /// <summary>Put the box away: do not.</summary>
    public sealed record Decline : KeyAct;

    /// <summary>The box goes on waiting.</summary>
    /// <param name="Why">The sentence.</param>
    public sealed record BoxWaits(string Why) : KeyAct;

    /// <summary>A character for the cell or the text field.</summary>
    /// <param name="Character">The character.</param>
    public sealed record Type(char Character) : KeyAct;

    /// <summary>Accept what is typed.</summary>
    public sealed record Accept : KeyAct;

    /// <summary>Follow the NEXT line.</summary>
    public sealed record FollowNext : KeyAct;

    /// <summary>Take back a character, or go one cell back.</summary>
    public sealed record TakeBack : KeyAct;

    /// <summary>Clear the cell, or go one level up.</summary>
    public sealed record Away : KeyAct;

    /// <summary>Move the choice: -1 up or left, +1 down or right.</summary>
    /// <param name="By">Direction.</param>
    /// <param name="Sideways">Among answers rather than rows.</param>
    public sealed record Choose(int By, bool Sideways) : KeyAct;

    /// <summary>Choose the row that was pointed at.</summary>
    /// <param name="BodyRow">Row of the body, from 0.</param>
    public sealed record ChooseRow(int BodyRow) : KeyAct;

    /// <summary>Scroll what is longer than the body.</summary>
    /// <param name="Pages">Pages down; -1000 and 1000 for the ends.</param>
    public sealed record Scroll(int Pages) : KeyAct;

    /// <summary>Do a deed of the sheet.</summary>
    /// <param name="Action">Its id.</param>
    public sealed record Deed(string Action) : KeyAct;

    /// <summary>Go to a place.</summary>
    /// <param name="Letter">Its letter.</param>
    public sealed record Place(char Letter) : KeyAct;

    /// <summary>Help to this sheet.</summary>
    public sealed record Help : KeyAct;

    /// <summary>The card.</summary>
    public sealed record Card : KeyAct;

    /// <summary>A number arrived that nothing takes, or that counts once only.</summary>
    /// <param name="Text">What arrived.</param>
    /// <param name="Why">The sentence.</param>
    public sealed record NotUsed(string Text, string Why) : KeyAct;

    /// <summary>The cell is emptied again: what stood in it was a doubled burst.</summary>
    public sealed record ClearCell : KeyAct;

    /// <summary>The key does nothing here, and says so.</summary>
    /// <param name="Why">The sentence.</param>
    public sealed record Nothing(string Why) : KeyAct;
}
