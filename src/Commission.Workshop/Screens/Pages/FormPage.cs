using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Workshop.Screens.Keys;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>One field of a form.</summary>
/// <param name="Question">What is wanted.</param>
/// <param name="About">Why, and where it stands.</param>
/// <param name="Unit">Its unit; empty for words.</param>
/// <param name="Initial">What stands in the field at first, from the answers before.</param>
public sealed record FormField(string Question, string About, string Unit, Func<ImmutableArray<string>, string> Initial)
{
    /// <summary>Why an answer cannot be taken, a sentence said at this very question; null where it can.</summary>
    public Func<string, string?> WhyNot { get; init; } = _ => null;

    /// <summary>Whether it takes several numbers, each with its own Enter; Enter in the empty field ends them.</summary>
    public bool Several { get; init; }
}

/// <summary>Asks several lines one after another and hands them over at the end. What was typed stays until it was taken.</summary>
/// <param name="desk">The desk.</param>
/// <param name="called">How the card calls the sheet.</param>
/// <param name="fields">The fields.</param>
/// <param name="take">Takes the answers; what to say, or why they could not be taken.</param>
/// <param name="last">What the last Enter does.</param>
public sealed class FormPage(Desk desk, string called, ImmutableArray<FormField> fields, Func<ImmutableArray<string>, Outcome<string>> take, string last = "puts it into the log") : Page(desk)
{
    private ImmutableArray<string> _answers = [];
    private OfferedText _text = OfferedText.Of(fields[0].Initial([]));
    private CommaChoice? _comma;
    private ImmutableArray<string> _several = [];

    /// <inheritdoc/>
    public override string Called => called;

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => [.. fields.Select(one => $"{one.Question} {one.About}")];

    private FormField Now => fields[_answers.Length];

    /// <inheritdoc/>
    public override KeyScene Scene => new() { TextField = true };

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => QuestionSheet.Of(new QuestionView
    {
        Path = $"{Desk.MachineName ?? "Commission"} / {called}", Right = string.Create(CultureInfo.InvariantCulture, $"question {_answers.Length + 1} of {fields.Length}"),
        Text = Now.Question, About = [Now.About, .. Now.Several && _several.Length > 0 ? (ReadOnlySpan<string>)[string.Create(CultureInfo.InvariantCulture, $"Typed so far: {_several.Length}. Enter in the empty field when all are typed.")] : []], Typed = _text.Text, Unit = Now.Unit, Live = Desk.Live,
        Step = (
            (_text.IsOffered ? OfferedText.Words : "Type it.") + (_answers.Length + 1 < fields.Length ? " Enter goes on." : Now.Several ? $" Enter takes it; in the empty field it {last}." : $" Enter {last}."),
            _answers.IsEmpty ? "Esc puts all of it away: nothing is done before the last Enter." : "Backspace in the empty field goes back; Esc puts all of it away."),
        Keys = [new("Enter", "go on", "accept"), new("Backspace", "back", "back", _answers.IsEmpty ? "this is the first question" : null), new("Esc", "away", "away"), new("F1", "help", "help")],
    });

    /// <inheritdoc/>
    public override void Type(char character) => (_text, _comma) = (_text.With(character), null);

    /// <inheritdoc/>
    public override void Choose(int by, bool sideways)
    {
        if (!sideways || _comma is not { } two)
            return;
        _text = new(two.Chosen(by), IsOffered: false);
        Desk.Say(two.Words(by));
    }

    // In an empty field one field back, as in the cells of a reading.
    /// <inheritdoc/>
    public override void TakeBack()
    {
        _comma = null;
        if (_text.Text.Length > 0)
            _text = _text.Shorter();
        else if (_several.Length > 0)
            (_text, _several) = (new(_several[^1], IsOffered: false), _several[..^1]);
        else if (_answers.Length > 0)
            (_text, _answers) = (new(_answers[^1], IsOffered: false), _answers[..^1]);
    }

    /// <inheritdoc/>
    public override void FollowNext()
    {
        if (Now.Unit.Length > 0 && CommaChoice.Of(_text.Text, Now.Unit) is { } comma)
        {
            _comma = comma;
            Desk.Say(comma.Question);
            return;
        }

        if (Now.WhyNot(_text.Text.Trim()) is { } why)
        {
            Desk.Say(why);
            return;
        }

        if (Now.Several && TakesOne(_text.Text.Trim()))
            return;
        var answers = _answers.Add(Now.Several ? string.Join(' ', _several.Add(_text.Text.Trim())).Trim() : _text.Text.Trim());
        if (answers.Length < fields.Length)
        {
            (_answers, _text) = (answers, OfferedText.Of(fields[answers.Length].Initial(answers)));
            return;
        }

        Answer(take(answers));
    }

    // A number by itself is one of several; a line with blanks is all of them.
    private bool TakesOne(string typed)
    {
        if (typed.Length == 0 || typed.IndexOfAny([' ', ';']) >= 0)
            return false;
        if (TypedEntry.Number(typed, Now.Unit) is Outcome<double>.Bad bad)
        {
            Desk.Say(bad.Problems);
            return true;
        }

        (_several, _text) = (_several.Add(typed), new("", IsOffered: false));
        Desk.Say("Lift it off, measure it anew, type the next. Enter in the empty field ends it.");
        return true;
    }
}
