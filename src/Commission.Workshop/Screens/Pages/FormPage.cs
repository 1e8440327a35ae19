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

    /// <summary>What is odd about an answer that can be taken, in view of the answers and the several numbers before it; null where nothing is.</summary>
    public Func<string, ImmutableArray<string>, FieldDoubt?> Odd { get; init; } = (_, _) => null;

    /// <summary>Whether it takes several numbers, each with its own Enter; Enter in the empty field ends them.</summary>
    public bool Several { get; init; }
}

/// <summary>Asks several lines one after another and hands them over at the end. What was typed stays until it was taken.</summary>
/// <param name="desk">The desk.</param>
/// <param name="called">How the card calls the sheet.</param>
/// <param name="fields">The fields.</param>
/// <param name="take">Takes the answers; what to say, or why they could not be taken.</param>
/// <param name="last">What the last Enter does.</param>
/// <param name="replaces">The file that taking them would write over, which is asked about first; null for none.</param>
public sealed class FormPage(Desk desk, string called, ImmutableArray<FormField> fields, Func<ImmutableArray<string>, Outcome<string>> take, string last = "puts it into the log", Func<ImmutableArray<string>, string?>? replaces = null) : Page(desk)
{
    private ImmutableArray<string> _answers = [];
    private OfferedText _text = OfferedText.Of(fields[0].Initial([]));
    private CommaChoice? _comma;
    private ImmutableArray<string> _several = [];

    // What is asked about the answer that stands in the field; null where nothing is.
    private FieldDoubt? _odd;

    // What was typed at the questions that were gone back over, the nearest on top; null where it stood as offered.
    private ImmutableStack<string?> _later = [];

    // Something was taken out of this field: a key held down goes no further than the field.
    private bool _backHeld;

    /// <inheritdoc/>
    public override string Called => called;

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => [.. fields.Select(one => $"{one.Question} {one.About}")];

    private FormField Now => fields[_answers.Length];

    /// <inheritdoc/>
    public override KeyScene Scene => _odd is { } odd ? odd.Scene(Now.Unit) : new() { TextField = true };

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => _comma is { } two ? two.On(Asked(), _text.Text) : Asked();

    private Sheet Asked() => QuestionSheet.Of(FieldDoubt.On(_odd, _text.Text, new QuestionView
    {
        Path = $"{Desk.MachineName ?? "Commission"} / {called}", Right = string.Create(CultureInfo.InvariantCulture, $"question {_answers.Length + 1} of {fields.Length}"),
        Text = Now.Question, About = [Now.About, .. Now.Several && _several.Length > 0 ? (ReadOnlySpan<string>)[string.Create(CultureInfo.InvariantCulture, $"Typed so far: {_several.Length}. Enter in the empty field when all are typed.")] : []], Typed = _text.Text, Unit = Now.Unit, Live = Desk.Live,
        Step = (
            (_text.IsTypedOver && !Now.Several ? OfferedText.Words : "Type it.") + (_answers.Length + 1 < fields.Length ? " Enter goes on." : Now.Several ? $" Enter takes it; in the empty field it {last}." : $" Enter {last}."),
            _answers.IsEmpty ? "Esc puts all of it away: nothing is done before the last Enter." : "Esc goes one answer back, on the first question it puts all away."),
        Keys = [new("Enter", "go on", "accept"), new("Backspace", "back", "back", _answers.IsEmpty ? "this is the first question" : null), new("Esc", _answers.IsEmpty ? "away" : "back", "away"), new("F1", "help", "help")],
    }));

    /// <inheritdoc/>
    public override void Type(char character) => (_text, _comma, _odd, _backHeld) = (_text.With(character), null, null, true);

    /// <inheritdoc/>
    public override void Choose(int by, bool sideways)
    {
        if (!sideways || _comma is not { } two)
            return;
        _text = new OfferedText(two.Chosen(by), IsOffered: false).Refused();
        Desk.Say(two.Words(by));
    }

    // In an empty field one field back, as in the cells of a reading.
    /// <inheritdoc/>
    public override void TakeBack()
    {
        (_comma, _odd) = (null, null);
        if (_text.Text.Length > 0)
            (_text, _backHeld) = (_text.Shorter(), true);
        else if (_backHeld)
            Desk.Say($"The field is empty. {(_answers.IsEmpty ? "Esc puts all of it away" : "Esc goes one answer back")}.");
        else if (_several.Length > 0)
            (_text, _several) = (new(_several[^1], IsOffered: false), _several[..^1]);
        else
            OneBack();
    }

    /// <inheritdoc/>
    public override bool StepBack()
    {
        (_comma, _odd) = (null, null);
        if (_text is { IsOffered: false, Text.Length: > 0 })
            (_text, _backHeld) = (OfferedText.Of(Now.Initial(_answers)), false);
        else
            return OneBack();
        return true;
    }

    // The answer before is offered again; what stands here is kept for the way forward.
    private bool OneBack()
    {
        if (_answers.IsEmpty)
            return false;
        _later = _later.Push(_text.Text == Now.Initial(_answers) ? null : _text.Text);
        (_text, _answers, _backHeld) = (OfferedText.Of(_answers[^1]), _answers[..^1], false);
        return true;
    }

    /// <inheritdoc/>
    public override void FollowNext()
    {
        if (_odd is not null)
            TypeAgain();
        else
            Given(isKept: false);
    }

    /// <inheritdoc/>
    public override void Deed(string action)
    {
        if (action is "doubt-keep" or "doubt-meant" && _odd is { } odd)
        {
            (_text, _odd) = (action == "doubt-meant" && odd.Meant is { } meant ? new(meant, IsOffered: false) : _text, null);
            Given(isKept: true);
        }
        else
        {
            TypeAgain();
        }
    }

    private void TypeAgain() => (_text, _odd, _comma) = (new("", IsOffered: false), null, null);

    private void Given(bool isKept)
    {
        if (Now.Unit.Length > 0 && CommaChoice.Of(_text.Text, Now.Unit) is { } comma)
        {
            Desk.Say(_comma == comma ? comma.Neither : comma.Question);
            (_comma, _text) = (comma, _text.Refused());
            return;
        }

        _comma = null;
        if (Now.WhyNot(_text.Text.Trim()) is { } why)
        {
            Desk.Say(why);
            _text = _text.Refused();
            return;
        }

        if (!isKept && Now.Odd(_text.Text.Trim(), [.. _answers, .. _several]) is { } odd)
        {
            (_odd, _text) = (odd, _text.Refused());
            Desk.Cue(2);
            return;
        }

        if (Now.Several && TakesOne(_text.Text.Trim()))
            return;
        var answers = _answers.Add(Now.Several ? string.Join(' ', _several.Add(_text.Text.Trim())).Trim() : _text.Text.Trim());
        string? kept = null;
        if (answers.Length < fields.Length)
        {
            _later = _later.IsEmpty ? _later : _later.Pop(out kept);
            (_answers, _text, _backHeld) = (answers, OfferedText.Of(kept ?? fields[answers.Length].Initial(answers)), false);
            return;
        }

        if (replaces?.Invoke(answers) is { } file)
            Desk.Cover(new ReplacePage(Desk, file, () => take(answers)));
        else
            Taken(take(answers));
    }

    private void Taken(Outcome<string> done)
    {
        if (done is Outcome<string>.Bad)
            _text = _text.Refused();
        Answer(done);
    }

    // A number by itself is one of several; a line with blanks is all of them.
    private bool TakesOne(string typed)
    {
        if (typed.Length == 0 || typed.IndexOfAny([' ', ';']) >= 0)
            return false;
        if (TypedEntry.Number(typed, Now.Unit) is Outcome<double>.Bad bad)
        {
            Desk.Say(bad.Problems);
            _text = _text.Refused();
            return true;
        }

        (_several, _text, _backHeld) = (_several.Add(typed), new("", IsOffered: false), false);
        Desk.Say("Lift it off, measure it anew, type the next. Enter in the empty field ends it.");
        return true;
    }
}
