using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <content>An answer that cannot be so, by its sign or by what is known besides: asked about before it is kept, with one key for each answer.</content>
public sealed partial class RunPage
{
    // What is odd about the answer, what it may have meant and what it says as it stands; null where nothing is asked.
    private (string Reason, (string Words, RunEvent Answer)? Meant, string As, RunEvent Kept)? _doubt;

    private bool Doubts(Need.Number number, double value)
    {
        var typed = Wrap.Cut(_typed, MostTyped);
        var kept = new RunEvent.NumberGiven(_typed, value);
        if (AnswerDoubt.About(Session.Run, typed, kept) is not { } doubt)
            return false;
        _doubt = (doubt.Reason, doubt.Meant is { } meant ? (Shown(meant, number), new RunEvent.NumberGiven(_typed, meant)) : null, typed, kept);
        _refused = true;
        Desk.Cue(2);
        return true;
    }

    private bool Doubts(ProposedSetting setting, double value)
    {
        var typed = Wrap.Cut(_typed, MostTyped);
        if (AnswerDoubt.About(setting, typed, value) is not { } doubt)
            return false;
        _doubt = (doubt.Reason, doubt.Meant is { } meant ? (meant.ToString("0.000###", CultureInfo.InvariantCulture), new RunEvent.ChangeTold(meant)) : null, typed, new RunEvent.ChangeTold(value));
        _refused = true;
        Desk.Cue(2);
        return true;
    }

    private bool Doubts(string word)
    {
        var kept = new RunEvent.Chosen(word);
        if (Session.Run.Clash(kept) is not { } clash)
            return false;
        _doubt = (clash.Reason, null, word, kept);
        Desk.Cue(2);
        return true;
    }

    private void Settle(RunEvent? answer)
    {
        _doubt = null;
        if (answer is not null)
            Happen(answer);
    }

    private void TypeAgain() => (_typed, _comma, _doubt) = ("", null, null);

    // The question in the place of the step; what it may have meant is one key, and so is what stands there.
    private QuestionView Doubted(QuestionView view) => _doubt is not { } asked ? view : view with
    {
        About = [Units.Told(asked.Reason) + ". A slip?"],
        Step = (Choices(asked), "Nothing is kept before you choose; the log has it as it was typed."),
        Keys = DoubtKeys(asked, view.Keys),
    };

    private static string Choices((string Reason, (string Words, RunEvent Answer)? Meant, string As, RunEvent Kept) asked) =>
        "Enter answers anew." + (asked.Meant is { } meant ? $" A takes {meant.Words}." : "") + $" O keeps {asked.As}.";

    private static ImmutableArray<SheetKey> DoubtKeys((string Reason, (string Words, RunEvent Answer)? Meant, string As, RunEvent Kept) asked, ImmutableArray<SheetKey> others) =>
        [new("Enter", "anew", "type-again"), .. asked.Meant is { } one ? (ReadOnlySpan<SheetKey>)[new("A", one.Words, "doubt-meant")] : [], new("O", "as it stands", "doubt-keep"), .. others.Where(key => key.Key is not ("Enter" or "A" or "O"))];

    private static string Shown(double value, Need.Number number) =>
        string.Create(CultureInfo.InvariantCulture, $"{number.AsTyped(value):0.####} {(number.TypedIn == "1" ? "" : number.TypedIn)}").TrimEnd();
}
