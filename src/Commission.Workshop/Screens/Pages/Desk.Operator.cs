using Commission.Core;
using Commission.Core.History;
using Commission.Core.Instruments;

namespace Commission.Workshop.Screens.Pages;

/// <content>Who is at the keys: a hand study belongs to one hand, and readings are judged by the study of whoever takes them.</content>
public sealed partial class Desk
{
    private const int LongestHandle = 20;

    // That nobody is named can be told too.
    private (bool Told, string? Handle) _hand;

    /// <summary>Handle of the person at the keys: as told, or as the program was started, else whoever was it last; null where nobody was ever named, and where it was told that nobody is.</summary>
    public string? Operator => _hand.Told ? _hand.Handle : Means.Operator ?? Ledger.LastOperator;

    /// <summary>Whether it was said in this session who is at the keys.</summary>
    public bool OperatorTold => _hand.Told || Means.Operator is not null;

    /// <summary>Asks who is at the keys; the one of last time stands there and Enter takes it.</summary>
    /// <param name="onward">Goes on once that is answered, also by nothing: then nobody is named. Null where nothing waits.</param>
    public void AskOperator(Action? onward = null)
    {
        var asked = new TextAsked(
            "who measures", "Who measures? A short handle, such as initials.",
            "A hand study belongs to one hand: readings are judged by the study of whoever takes them. Initials are enough: names stay out of the log.",
            "this hand", Operator is null ? "Type it, then Enter. Enter alone names nobody." : "Type it, or take what stands there: Enter.",
            typed => TakeOperator(typed).Then<string>(said =>
            {
                onward?.Invoke();
                return said;
            }));
        Cover(new TextPage(this, asked with { Odd = typed => HandStudy.OddHandle(typed) is { } odd ? new(odd, null) : null }, Operator ?? ""));
    }

    private Outcome<string> TakeOperator(string typed)
    {
        var handle = PlainText.Of(typed, LongestHandle + 1);
        if (handle.Length > LongestHandle)
            return new Problem("a handle is short", "Initials are enough");
        if (handle.Length == 0)
        {
            _hand = (true, null);
            return "Nobody is named: a study is kept as the owner's.";
        }

        if (handle != Ledger.LastOperator && !Write(new EntryBody.OperatorEntered(handle)))
            return new Problem("the handle could not be put into the log", "Look at the store; nothing else was changed");
        _hand = (true, handle);
        return $"{handle} is at the keys. K, then O, for somebody else.";
    }
}
