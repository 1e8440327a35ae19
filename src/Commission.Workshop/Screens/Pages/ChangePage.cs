using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Upkeep;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens.Sheets;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Screens.Pages;

/// <summary>Tells a change in the machine's life: what it makes stale is shown before it is entered.</summary>
public sealed class ChangePage(Desk desk, AxisName? about = null) : ListPage(desk)
{
    private AxisName? _axis = about;

    /// <inheritdoc/>
    public override string Called => "a change";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
    [
        "A change marks the results that rest on what was changed. Up and Down choose what, Left and Right the axis where it concerns one.",
        "U on the log undoes it; E there takes back an older one.",
    ];

    /// <inheritdoc/>
    protected override int Count => ChangeWord.All.Length;

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        var word = ChangeWord.All[Chosen];
        var row = StaleTable.Find(word.Word);
        var touched = row is null ? "nothing" : row.Items.Length > 4 ? string.Create(CultureInfo.InvariantCulture, $"{row.Items.Length} results") : string.Join(", ", row.Items.Select(item => item.Replace('-', ' ')));
        return ListSheet.Of(
            new ListView
            {
                Path = $"{Desk.MachineName} / log / tell a change", Right = string.Create(CultureInfo.InvariantCulture, $"{Chosen + 1} of {Count}"), Live = Desk.Live, Head = $"   what was changed                                 axis: {_axis?.ToString() ?? "none or all"}",
                Lines = [.. ChangeWord.All.Select(change => change.Title)], Chosen = Chosen,
                Step = ($"{word.Title}{(_axis is { } axis ? " " + axis : "")}. Enter asks for your words.", $"{(row?.Effect == ChangeEffect.Suspect ? "Suspect" : "Stale")} by that: {touched}."),
                Keys = [new("Enter", "this one", "next"), new("Up, Down", "choose", "choose"), new("Left, Right", "axis", "choose"), new("Esc", "do not", "away"), new("F1", "help", "help")],
            },
            height);
    }

    /// <inheritdoc/>
    public override void Choose(int by, bool sideways)
    {
        if (!sideways)
            base.Choose(by, sideways);
        else
            _axis = (Math.Clamp((_axis is { } axis ? (int)axis + 1 : 0) + by, 0, 3) - 1) is var at and >= 0 ? (AxisName)at : null;
    }

    /// <inheritdoc/>
    public override void FollowNext()
    {
        var word = ChangeWord.All[Chosen];
        var axis = _axis;
        Desk.Uncover();
        Desk.Cover(new TextPage(Desk, new TextAsked(
            "a change", $"{word.Title}{(axis is { } named ? ", " + named : "")}: what happened, in your own words?", "They stand in the log, on trends and in reports. Empty is an answer too.", "into the log", "Type them. Enter puts the change into the log.",
            text => Told(word, axis, text))));
    }

    private Outcome<string> Told(ChangeWord word, AxisName? axis, string text)
    {
        // Before the change is written: what was counted belongs to the time before it.
        if (ProcedureSession.BeginsAnotherCount(word.Word))
            Desk.Link?.EndCounting();
        return new TellChange(Desk.Means.Journal).Run(Desk.MachineName, word.Word, axis, text.Length > 0 ? text : word.Title, Desk.Operator).Then<string>(_ =>
        {
            Desk.Refresh();
            if (StaleTable.Find(word.Word)?.Effect == ChangeEffect.Suspect)
                Desk.Link?.LoseTrust("a crash was told");
            return $"{word.Title}: in the log. The bench shows what to look at again.";
        });
    }
}
