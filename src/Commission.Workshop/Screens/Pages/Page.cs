using System.Collections.Immutable;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Workshop.Screens.Keys;

namespace Commission.Workshop.Screens.Pages;

/// <summary>One place or sheet of the desk: it makes its sheet anew after every event and answers the acts of keys.</summary>
public abstract class Page(Desk desk)
{
    /// <summary>The desk it lies on.</summary>
    protected Desk Desk { get; } = desk;

    /// <summary>How the card calls this sheet.</summary>
    public abstract string Called { get; }

    /// <summary>The handbook's words about this sheet, for F1.</summary>
    public abstract ImmutableArray<string> Help { get; }

    /// <summary>Kind or procedure whose page of the handbook stands below the help; null where there is none.</summary>
    public virtual string? Subject => null;

    /// <summary>The picture that belongs to the sheet; null where there is none. Shown beside it where there is room, and with G.</summary>
    public virtual Figure? Picture => null;

    /// <summary>What a wide window shows beside the sheet, in so many columns and rows: details of what is chosen, what comes and what to mind.</summary>
    public virtual IEnumerable<Line> Notes(int room, int rows) => [];

    /// <summary>Changes where the sheet turns to another picture without an entry of the journal.</summary>
    public virtual int PictureTurn => 0;

    /// <summary>The sheet.</summary>
    public abstract Sheet Show(int width, int height);

    /// <summary>The keys of the sheet, that of its picture with them.</summary>
    public ImmutableArray<SheetKey> AllKeys
    {
        get
        {
            var keys = Show(SheetFrame.LeastWidth, SheetFrame.LeastHeight).Keys;
            return Picture is null || keys.Any(key => key.Key == Beside.Key.Key) ? keys : keys.Add(Beside.Key);
        }
    }

    /// <summary>What the keys meet.</summary>
    public virtual KeyScene Scene => new() { Deeds = Show(SheetFrame.LeastWidth, SheetFrame.LeastHeight).Keys };

    /// <summary>A character for the cell.</summary>
    public virtual void Type(char character)
    {
    }

    /// <summary>Takes back a character.</summary>
    public virtual void TakeBack()
    {
    }

    /// <summary>Accepts what is typed.</summary>
    public virtual void Accept() => FollowNext();

    /// <summary>Does what NEXT says.</summary>
    public abstract void FollowNext();

    /// <summary>Puts this sheet away and says what came of it; where it was refused, the sheet stays and says why.</summary>
    protected void Answer(Outcome<string> done)
    {
        switch (done)
        {
            case Outcome<string>.Good good:
                // Where the desk went elsewhere meanwhile nothing lies under this page any more.
                Desk.Uncover();
                Desk.Say(good.Value);
                break;
            case Outcome<string>.Bad bad:
                Desk.Say(bad.Problems);
                break;
        }
    }

    /// <summary>Esc inside the sheet: clears what is typed, or goes one answer back.</summary>
    /// <returns>Whether there was anything of it; where not, Esc puts the sheet away.</returns>
    public virtual bool StepBack() => false;

    /// <summary>Clears the cell or goes one level up.</summary>
    public virtual void Away() => Desk.ToBench();

    /// <summary>Moves the choice.</summary>
    public virtual void Choose(int by, bool sideways)
    {
    }

    /// <summary>Turns pages of a list; whether there is one. Where there is none the body is scrolled.</summary>
    public virtual bool Turn(int pages) => false;

    /// <summary>A row of the body was pointed at.</summary>
    public virtual void ChooseRow(int bodyRow)
    {
    }

    /// <summary>Does a deed of the sheet.</summary>
    public virtual void Deed(string action) => Desk.Say("That is not possible here.");

    /// <summary>The letter of the box was given.</summary>
    public virtual void Confirm()
    {
    }

    /// <summary>The page is shown again after another lay over it.</summary>
    public virtual void Again()
    {
    }

    /// <summary>The box is put away.</summary>
    public virtual void Decline()
    {
    }

    /// <summary>Says all problems of an outcome; the value where there is one.</summary>
    protected T? Said<T>(Outcome<T> outcome)
        where T : class?
    {
        if (outcome is Outcome<T>.Bad bad)
            Desk.Say(bad.Problems);
        return outcome is Outcome<T>.Good good ? good.Value : null;
    }
}
