using System.Collections.Immutable;
using Commission.Workshop.Screens.Keys;

namespace Commission.Workshop.Screens.Pages;

/// <content>The window: what is shown in it, and what keys meet where no sheet can be shown.</content>
public sealed partial class Desk
{
    private const string ItMoves = "THE MACHINE MOVES. EVERY KEY STOPS.";
    private const string WasStopped = "STOP. Look at the machine.";

    /// <summary>Whether the window is too small for a sheet: nobody can read what a key would do, so none but STOP does anything.</summary>
    public bool HidesSheets { get; private set; }

    /// <summary>Columns and rows of the window as it was drawn last; of the smallest before it was.</summary>
    public (int Width, int Height) Window { get; private set; } = (SheetFrame.LeastWidth, SheetFrame.LeastHeight);

    /// <summary>Whether a page of that kind is the one that is shown.</summary>
    public bool Shows<T>()
        where T : Page => _page is T;

    /// <inheritdoc/>
    public KeyScene Scene => Link?.Moving is { } moving ? new KeyScene { Moving = moving, CableCaliperDecimals = Running?.CableDecimals, Places = "" }
        : HidesSheets ? new KeyScene { OutOfSight = true, Places = "" } : WithPicture(_page.Scene) is var scene && WhyNotWritten is null ? scene : scene with { Deeds = NotNow(scene.Deeds) };

    /// <summary>Goes to a place by its letter.</summary>
    public void GoTo(char letter)
    {
        if (MachineName is null)
            Say("No machine is described yet. Enter begins with its name.");
        else if (IsHeld)
            Say("First tell what happened: A, S or O.");
        else if (_places.TryGetValue(letter, out var place))
            Show(place());
    }

    /// <inheritdoc/>
    public Sheet Show(int width, int height)
    {
        // A window too small for a sheet shows none: no page is laid out for less.
        (width, height) = (Math.Max(width, SheetFrame.LeastWidth), Math.Max(height, SheetFrame.LeastHeight));
        Window = (width, height);
        // What has a picture shows that beside it.
        var sheet = Picture is { } figure ? Beside.Set(_page.Show(width, height), figure, width, height, Fine) : SideNotes.Set(_page.Show(width, height), _page.Notes, width, height);
        var right = Means.Journal.ReadOnlyReason is { } reason ? _free ? "read only, free since it began" : reason.Contains("another program", StringComparison.Ordinal) ? "read only, the other one writes" : "read only, nothing is kept" : sheet.Right;
        var small = Link?.Moving is not null ? ItMoves : _page is StopPage ? WasStopped : null;
        return sheet with { IsPractice = IsPractice, Message = _message ?? sheet.Message, Right = right, WhereSmall = small, Keys = NotNow(sheet.Keys) };
    }

    // Deeds that do nothing but write, or end with it: where nothing can be written they are not begun.
    private static readonly ImmutableHashSet<string> Writing =
    [
        "note", "undo", "undo-reading", "change", "correct", "add", "check", "retire", "withdraw", "exclude", "leave-out", "again", "again-1", "again-2", "again-3", "skip", "start", "aside", "keep", "import", "finding-leave",
    ];

    /// <summary>Why nothing can be written, and what to do about it; null where it can.</summary>
    public string? WhyNotWritten => NotWritten is { } why ? why + (_free ? "; Q and a new start write" : "; Q and a new start try again") : null;

    /// <summary>Whether a deed does nothing but write, or ends with it.</summary>
    public static bool Writes(string action) => Writing.Contains(action);

    // Whether it still is held is looked at while this one runs; who holds it was told at the start only.
    private string? NotWritten => Means.Journal.ReadOnlyReason is not { } why || !why.Contains(Held, StringComparison.Ordinal) ? Means.Journal.ReadOnlyReason
        : _free ? why.Replace(Held, " was held by another program", StringComparison.Ordinal) + " when this one began, and is free now"
        : _wasFree ? why.Split(" (")[0] : why;

    private const long LookedMs = 2000;

    private bool _free, _wasFree;
    private long _lookedMs;

    // The other program may leave, and another one may come: told once each time it leaves.
    private bool TellFree(long nowMs)
    {
        if (Means.Journal.ReadOnlyReason?.Contains(Held, StringComparison.Ordinal) != true || nowMs - _lookedMs < LookedMs)
            return false;
        _lookedMs = nowMs;
        if (Means.Journal.IsFree == _free)
            return false;
        (_free, _wasFree) = (!_free, true);
        if (_free)
            Say("The other program has left the store: Q and a new start write here.");
        return true;
    }

    private const string Held = " is held by another program";

    private ImmutableArray<SheetKey> NotNow(ImmutableArray<SheetKey> keys) =>
        WhyNotWritten is not { } why ? keys : [.. keys.Select(key => Writing.Contains(key.Action) ? key with { NotNow = key.NotNow ?? why } : key)];

    /// <inheritdoc/>
    public void Sized(int width, int height)
    {
        var hides = width < SheetFrame.LeastWidth || height < SheetFrame.LeastHeight;
        if (hides == HidesSheets)
            return;
        HidesSheets = hides;
        // What was confirmed is what was seen: a box that nobody sees is void, and drawn again it is read again.
        if (hides)
            Link?.Withdraw();
        else if (_page is MotionPage or WritePage)
            _page.Again();
    }

    /// <summary>Covers the desk with the box of a move; one that was out of sight is replaced.</summary>
    public void CoverWithBox(Page box)
    {
        if (_page is MotionPage)
            _page = box;
        else
            Cover(box);
    }

    private KeyScene WithPicture(KeyScene scene) => Picture is null || scene.Deeds.Any(deed => deed.Key == Beside.Key.Key) ? scene : scene with { Deeds = scene.Deeds.Add(Beside.Key) };
}
