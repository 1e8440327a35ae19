using System.Collections.Immutable;
using System.Globalization;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>Asks before a run is put aside: one sheet earlier the same letter may have meant "as typed".</summary>
/// <param name="desk">The desk.</param>
/// <param name="work">The run.</param>
public sealed class AsidePage(Desk desk, RunPage work) : Page(desk)
{
    /// <inheritdoc/>
    public override string Called => "put aside";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
    [
        "S puts the run aside: it waits on its route card and in the list of the work, and goes on from there. Enter and Esc go back to the sheet it was asked from.",
    ];

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => QuestionSheet.Of(new QuestionView
    {
        Path = $"{Desk.MachineName} / work / {work.Called} / put aside", Right = Desk.Today, Live = Desk.Live, Text = $"Put {work.Called} aside?", Height = height,
        About = [Accepted, "It waits on its route card: W, then Enter on its line, then S goes on with it."],
        Step = ("Enter or Esc: go on where it was. S puts it aside.", "Nothing is lost either way."),
        Keys = [new("Enter", "go on", "next"), new("S", "put it aside", "aside-yes"), new("Esc", "go on", "away") { Quiet = true }, new("N", "note", "note"), new("F1", "help", "help"), new("F2", "card", "card")],
    });

    private string Accepted => work.Session.Run.Readings.Count(reading => reading.Stands) is > 0 and var count
        ? string.Create(CultureInfo.InvariantCulture, $"{count} reading{(count == 1 ? "" : "s")} of it {(count == 1 ? "is" : "are")} on disk and stay{(count == 1 ? "s" : "")}.")
        : "Everything that was accepted is on disk and stays.";

    /// <inheritdoc/>
    public override void FollowNext() => Desk.Uncover();

    /// <inheritdoc/>
    public override void Deed(string action)
    {
        Desk.Uncover();
        if (action == "aside-yes")
            work.PutAside();
    }
}
