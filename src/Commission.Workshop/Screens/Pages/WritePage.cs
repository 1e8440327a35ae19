using System.Collections.Immutable;
using System.Globalization;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens.Keys;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>The box before a setting is written: old and new side by side; the axis' letter writes, nothing else does.</summary>
/// <param name="desk">The desk.</param>
/// <param name="writes">What would be written; more than one for a pair of motors.</param>
/// <param name="path">Where one is.</param>
/// <param name="written">Told the value read back.</param>
public sealed class WritePage(Desk desk, ImmutableArray<PlannedWrite> writes, string path, Action<double?> written) : Page(desk)
{
    private long _drawnMs = desk.Link!.NowMs + DeskLink.TickMs;
    private bool _button;

    private PlannedWrite First => writes[0];

    private char Letter => First.Setting.Axis!.Value.ToString()[0];

    /// <inheritdoc/>
    public override string Called => "a write";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
    [
        $"{Letter} writes, typed at least half a second after the box was drawn; Enter and Esc do not. For keyboards without that letter: Tab, then Space.",
        "What was written is read back and compared by number. The way back is to write the old value the same way.",
    ];

    /// <inheritdoc/>
    public override KeyScene Scene => new() { Box = new OpenBox(Letter, _drawnMs, _button), Deeds = Show(SheetFrame.LeastWidth, SheetFrame.LeastHeight).Keys, Places = "" };

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        var saved = Desk.Ledger.SettingsSaved.LastOrDefault()?.At.ToString("HH:mm", CultureInfo.InvariantCulture) ?? "not yet";
        var others = (Desk.Link!.Settings?.Now.Length ?? writes.Length) - writes.Length;
        return WriteBoxSheet.Of(new WriteBoxView(path, Letter, $"steps per mm, {Letter}", First.Before.Text, First.Text, others, saved, Desk.Live));
    }

    /// <inheritdoc/>
    public override void FollowNext() => Decline();

    /// <inheritdoc/>
    public override void Away() => Decline();

    /// <inheritdoc/>
    public override void Choose(int by, bool sideways) => _button = !_button;

    /// <inheritdoc/>
    public override void Again() => (_drawnMs, _button) = (Desk.Link!.NowMs + DeskLink.TickMs, false);

    /// <inheritdoc/>
    public override void Decline()
    {
        Desk.Uncover();
        Desk.Say("Nothing was written.");
    }

    /// <inheritdoc/>
    public override void Confirm()
    {
        Desk.Uncover();
        Desk.Say("It is being written, then read back.");
        Desk.Link!.Write(writes, read =>
        {
            var back = read.FirstOrDefault(setting => setting.Key == First.Setting.Key)?.Value;
            var wanted = double.Parse(First.Text, CultureInfo.InvariantCulture);
            Desk.Say(back == wanted
                ? string.Create(CultureInfo.InvariantCulture, $"Read back {back}, agrees, {Desk.Now:HH:mm}. Every position has a new meaning: home again.")
                : string.Create(CultureInfo.InvariantCulture, $"Wrote {First.Text}, read back {back}: they differ. Nothing more is written."));
            if (back == wanted)
                written(back);
        });
    }

    /// <inheritdoc/>
    public override void Deed(string action)
    {
        if (action == "decline")
            Decline();
    }
}
