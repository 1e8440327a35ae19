using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines.Dialects;
using Commission.Workshop.Controllers;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens.Keys;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>The box before a setting is written: old and new side by side; the axis' letter writes, nothing else does. Then what was read back.</summary>
/// <param name="desk">The desk.</param>
/// <param name="writes">What would be written; more than one for a pair of motors or for settings that are put back together.</param>
/// <param name="path">Where one is.</param>
/// <param name="written">Done once what was read back agrees; null where nothing hangs on it.</param>
/// <param name="onward">Done when the page is left after that.</param>
public sealed class WritePage(Desk desk, ImmutableArray<PlannedWrite> writes, string path, Action? written, Action? onward) : Page(desk)
{
    private readonly ImmutableArray<char> _letters = writes.All(write => write.Setting.Axis is not null)
        ? [.. writes.Select(write => write.Setting.Axis!.Value.ToString()[0]).Distinct()] : ['X', 'Y', 'Z'];
    // What is saved after the write holds the new value: the way back is what was saved before it.
    private readonly Entered<EntryBody.SettingsSaved>? _wayBack = SavedSets.WayBack(desk, writes);
    private long _drawnMs = desk.Link!.NowMs + DeskLink.TickMs;
    private int _given;
    private bool _button;
    private Stage _stage;
    private int _losses;
    private ImmutableArray<string> _result = [];

    private enum Stage
    {
        Box,
        Writing,
        Agrees,
        Failed,
    }

    /// <inheritdoc/>
    public override string Called => "a write";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
    [
        $"{string.Join(", then ", _letters)} writes, typed at least half a second after the box was drawn; Enter and Esc do not. For keyboards without that letter: Tab, then Space.",
        "What was written is read back and compared by number. The way back is to write the old value the same way: V on the controller's page.",
    ];

    /// <inheritdoc/>
    public override KeyScene Scene => new()
    {
        Box = _stage == Stage.Box ? new OpenBox(_letters[_given], _drawnMs, _button) : null, Deeds = Show(SheetFrame.LeastWidth, SheetFrame.LeastHeight).Keys, Places = "",
    };

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        var weight = writes[0].Setting.Weight;
        return WriteBoxSheet.Of(new WriteBoxView
        {
            Path = path, Letters = _letters, Given = _given, SavedAt = _wayBack?.At.ToString(_wayBack.At.Date == Desk.Now.Date ? "HH:mm 'today'" : "d MMM HH:mm", CultureInfo.InvariantCulture), WayBack = _wayBack is { } set ? SavedSets.When(set.At, Desk.Now) : null, Live = Desk.Live, Others = (Desk.Link!.Settings?.Now.Length ?? writes.Length) - writes.Length,
            Right = Desk.Link.Lost is null ? "controller: linked" : "controller: link lost",
            Lines = [.. writes.Select(write => new WriteLine(write.Setting.InWords, write.Before.Text, write.Text, write.Setting.Unit ?? ""))],
            Decides = weight == SettingWeight.Plain ? null : weight.ToString().ToLowerInvariant(), NewMeaning = writes.Any(write => write.Setting.Name == "stepsPerMm"),
            Result = _result, ResultWord = _stage is Stage.Failed ? "known now" : WriteBoxSheet.ReadBack, Step = Step, Reached = _button,
        });
    }

    private (string, string)? Step => _stage switch
    {
        Stage.Box => null,
        Stage.Writing => ("It is being written, then read back. Nothing else waits for it.", "The gantry does not move."),
        Stage.Agrees => ($"Written. Enter goes on; {LinkWords.Onward(Desk.Link?.Now?.Gate).Written}.", "Because: positions are not trusted after a setting was written."),
        _ => ("Nothing more is written. Enter goes back; R on the controller reads all.", "Because: what it holds now must be seen before anything moves."),
    };

    /// <inheritdoc/>
    public override void FollowNext()
    {
        if (_stage is Stage.Box)
        {
            Decline();
        }
        else if (_stage is not Stage.Writing)
        {
            Desk.Uncover();
            if (_stage is not Stage.Agrees)
                return;
            // The sheet has said that the position is not trusted by this: leaving it says that it was read. Anything else that happened waits to be.
            if (Desk.Link?.Now?.Gate.Trouble == ControllerLink.SettingWritten)
                Desk.Link.Understood('\n', _losses);
            onward?.Invoke();
        }
    }

    /// <inheritdoc/>
    public override void Away() => FollowNext();

    /// <inheritdoc/>
    public override void Choose(int by, bool sideways) => _button = !_button;

    // Shown again after the help lay over it: it must be read again before its letter counts.
    /// <inheritdoc/>
    public override void Again() => (_drawnMs, _button, _given) = (Desk.Link!.NowMs + DeskLink.TickMs, false, 0);

    /// <inheritdoc/>
    public override void Decline()
    {
        if (_stage is not Stage.Box)
            return;
        Desk.Uncover();
        Desk.Say("Nothing was written.");
    }

    /// <inheritdoc/>
    public override void Confirm()
    {
        if (_stage is not Stage.Box)
            return;
        if (++_given < _letters.Length)
        {
            (_drawnMs, _button) = (Desk.Link!.NowMs + DeskLink.TickMs, false);
            Desk.Say($"It concerns {_letters[_given]} too: {_letters[_given]} goes on. Nothing is written yet.");
            return;
        }

        (_given, _stage, _result) = (0, Stage.Writing, ["being written"]);
        Desk.Link!.Write(writes, Agreed, Failed);
    }

    /// <inheritdoc/>
    public override void Deed(string action)
    {
        if (action == "decline")
            Decline();
        else if (action == "wire")
            Desk.Cover(new WordsPage(Desk, "exact text for the wire", [.. Desk.Link!.WireText(writes), "Each line goes out whole, at rest, after the letter in the box. Nothing else is sent with it."]));
        else
            FollowNext();
    }

    private void Agreed(ImmutableArray<SavedSetting> read)
    {
        (_stage, _losses) = (Stage.Agrees, Desk.Link?.Now?.Gate.Losses ?? 0);
        _result = [.. read.Select(setting => string.Create(CultureInfo.InvariantCulture, $"{setting.Text}{(setting.Unit is { Length: > 0 } unit ? " " + unit : "")}, agrees, {Desk.Now:HH:mm}{(read.Length > 1 ? $"   {SettingName.OfSaved(setting.Name)}" : "")}"))];
        written?.Invoke();
    }

    private void Failed(ImmutableArray<Problem> problems)
    {
        _stage = Stage.Failed;
        // What to do about it is the next step of the sheet, the same for all of them.
        _result = [.. problems.Select(problem => problem.What + ".")];
    }
}

/// <summary>Several boxes after one another: plain settings by axis first, then each that decides more than a number by itself.</summary>
public static class WriteRound
{
    /// <summary>Shows the first box; each further one follows when the one before was read back and left.</summary>
    public static void Begin(Desk desk, ImmutableArray<PlannedWrite> writes, string path)
    {
        if (writes.IsEmpty)
            desk.Say("Nothing differs: nothing is written.");
        else
            Next(desk, Batches(writes), path, 0);
    }

    /// <summary>What goes into one box each.</summary>
    public static ImmutableArray<ImmutableArray<PlannedWrite>> Batches(ImmutableArray<PlannedWrite> writes) =>
    [
        .. writes.OrderBy(write => write.Setting.Weight).GroupBy(write => write.Setting is { Weight: SettingWeight.Plain, Axis: { } axis } ? (axis.ToString(), "") : (write.Setting.Axis?.ToString() ?? "", write.Setting.Key))
            .SelectMany(group => group.Chunk(WriteBoxSheet.Most)).Select(batch => batch.ToImmutableArray()),
    ];

    private static void Next(Desk desk, ImmutableArray<ImmutableArray<PlannedWrite>> batches, string path, int at)
    {
        if (at < batches.Length)
            desk.Cover(new WritePage(desk, batches[at], batches.Length == 1 ? path : string.Create(CultureInfo.InvariantCulture, $"{path} / box {at + 1} of {batches.Length}"), null, () => Next(desk, batches, path, at + 1)));
        else
            desk.Say("Everything that was asked for is written and read back.");
    }
}
