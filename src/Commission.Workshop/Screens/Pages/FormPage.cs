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
public sealed record FormField(string Question, string About, string Unit, Func<ImmutableArray<string>, string> Initial);

/// <summary>Asks several lines one after another and hands them over at the end. What was typed stays until it was taken.</summary>
/// <param name="desk">The desk.</param>
/// <param name="called">How the card calls the sheet.</param>
/// <param name="fields">The fields.</param>
/// <param name="take">Takes the answers; what to say, or why they could not be taken.</param>
/// <param name="last">What the last Enter does.</param>
public sealed class FormPage(Desk desk, string called, ImmutableArray<FormField> fields, Func<ImmutableArray<string>, Outcome<string>> take, string last = "puts it into the log") : Page(desk)
{
    private ImmutableArray<string> _answers = [];
    private string _text = fields[0].Initial([]);
    private CommaChoice? _comma;

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
        Text = Now.Question, About = [Now.About], Typed = _text, Unit = Now.Unit, Live = Desk.Live,
        Step = (_answers.Length + 1 < fields.Length ? "Type it. Enter goes on" + (_answers.IsEmpty ? "." : "; Backspace in the empty field goes back.") : $"Type it. Enter {last}.", "Esc puts all of it away: nothing is done before the last Enter."),
        Keys = [new("Enter", "go on", "accept"), new("Backspace", "back", "back", _answers.IsEmpty ? "this is the first question" : null), new("Esc", "away", "away"), new("F1", "help", "help")],
    });

    /// <inheritdoc/>
    public override void Type(char character) => (_text, _comma) = (_text + character, null);

    /// <inheritdoc/>
    public override void Choose(int by, bool sideways)
    {
        if (!sideways || _comma is not { } two)
            return;
        _text = two.Chosen(by);
        Desk.Say(two.Words(by));
    }

    // In an empty field one field back, as in the cells of a reading.
    /// <inheritdoc/>
    public override void TakeBack()
    {
        _comma = null;
        if (_text.Length > 0)
            _text = _text[..^1];
        else if (_answers.Length > 0)
            (_text, _answers) = (_answers[^1], _answers[..^1]);
    }

    /// <inheritdoc/>
    public override void FollowNext()
    {
        if (Now.Unit.Length > 0 && CommaChoice.Of(_text, Now.Unit) is { } comma)
        {
            _comma = comma;
            Desk.Say(comma.Question);
            return;
        }

        var answers = _answers.Add(_text.Trim());
        if (answers.Length < fields.Length)
        {
            (_answers, _text) = (answers, fields[answers.Length].Initial(answers));
            return;
        }

        Answer(take(answers));
    }
}
