using System.Collections.Immutable;
using Commission.Core;
using Commission.Workshop.Screens.Keys;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>One line of text that is asked for.</summary>
/// <param name="Called">How the card calls the sheet.</param>
/// <param name="Question">What is wanted.</param>
/// <param name="About">Why, and what becomes of it.</param>
/// <param name="Word">What Enter does, in row 24.</param>
/// <param name="Next">What Enter does, a sentence.</param>
/// <param name="Take">Takes what was typed; the answer is what to say, or why it could not be taken.</param>
/// <param name="Unit">Unit of a number that is typed without one; empty for words.</param>
/// <param name="Replaces">The file that taking it would write over, which is asked about first; null for none.</param>
public sealed record TextAsked(string Called, string Question, string About, string Word, string Next, Func<string, Outcome<string>> Take, string Unit = "", Func<string, string?>? Replaces = null)
{
    /// <summary>What is odd about a text that can be taken; null where nothing is.</summary>
    public Func<string, FieldDoubt?> Odd { get; init; } = _ => null;
}

/// <summary>Asks for one line of text. What was typed stays in its field until it was taken.</summary>
public sealed class TextPage(Desk desk, TextAsked asked, string typed = "") : Page(desk)
{
    private OfferedText _text = OfferedText.Of(typed);

    // What is asked about the text that stands in the field; null where nothing is.
    private FieldDoubt? _odd;

    /// <inheritdoc/>
    public override string Called => asked.Called;

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => [asked.Question, asked.About];

    /// <inheritdoc/>
    public override KeyScene Scene => _odd?.Scene(asked.Unit) ?? new() { TextField = true };

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => QuestionSheet.Of(FieldDoubt.On(_odd, _text.Text, new QuestionView
    {
        Path = $"{Desk.MachineName ?? "Commission"} / {asked.Called}", Right = Desk.Today, Text = asked.Question, About = [asked.About], Typed = _text.Text, Unit = asked.Unit, Live = Desk.Live,
        Step = ($"{asked.Next} Esc puts it away.", _text.IsTypedOver ? $"{OfferedText.Words} Nothing is done before Enter." : "Nothing is done before Enter."),
        Keys = [new("Enter", asked.Word, "accept"), new("Esc", "away", "away"), new("F1", "help", "help")],
    }));

    /// <inheritdoc/>
    public override void Type(char character) => (_text, _odd) = (_text.With(character), null);

    /// <inheritdoc/>
    public override void TakeBack() => (_text, _odd) = (_text.Shorter(), null);

    /// <inheritdoc/>
    public override void FollowNext()
    {
        if (_odd is not null)
            (_text, _odd) = (new("", IsOffered: false), null);
        else if (asked.Odd(_text.Text.Trim()) is { } odd)
            Doubt(odd);
        else
            Given();
    }

    /// <inheritdoc/>
    public override void Deed(string action)
    {
        if (action is "doubt-keep" or "doubt-meant" && _odd is { } odd)
        {
            (_text, _odd) = (action == "doubt-meant" && odd.Meant is { } meant ? new(meant, IsOffered: false) : _text, null);
            Given();
        }
        else
        {
            FollowNext();
        }
    }

    private void Doubt(FieldDoubt odd)
    {
        (_odd, _text) = (odd, _text.Refused());
        Desk.Cue(2);
    }

    private void Given()
    {
        var text = _text.Text.Trim();
        if (asked.Replaces?.Invoke(text) is { } file)
            Desk.Cover(new ReplacePage(Desk, file, () => asked.Take(text)));
        else
            Taken(asked.Take(text));
    }

    private void Taken(Outcome<string> done)
    {
        if (done is Outcome<string>.Bad)
            _text = _text.Refused();
        Answer(done);
    }
}
