using System.Collections.Immutable;
using Commission.Core;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>Asks before a file takes the place of another one: its name was offered or typed, and nobody may have thought of the older file.</summary>
/// <param name="desk">The desk.</param>
/// <param name="file">The file that is there.</param>
/// <param name="write">Writes the new one over it.</param>
public sealed class ReplacePage(Desk desk, string file, Func<Outcome<string>> write) : Page(desk)
{
    /// <inheritdoc/>
    public override string Called => "replace";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => ["A writes the new file in the place of the one that is there, which is gone then. Enter and Esc go back to its name, and nothing is written."];

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => QuestionSheet.Of(new QuestionView
    {
        Path = $"{Desk.MachineName ?? "Commission"} / replace", Right = Desk.Today, Live = Desk.Live, Height = height, Text = "A file of that name is there already. Replace it?",
        About = [Path.GetFullPath(file), "Replaced it is gone: this program keeps no copy of files that it wrote for you. What they were made from stays in the log."],
        Step = ("Enter or Esc: another name. A replaces the file.", "Nothing is written before A."),
        Keys = [new("Enter", "another name", "next"), new("A", "replace it", "replace"), new("Esc", "another name", "away") { Quiet = true }, new("F1", "help", "help"), new("F2", "card", "card")],
    });

    /// <inheritdoc/>
    public override void FollowNext() => Desk.Uncover();

    /// <inheritdoc/>
    public override void Deed(string action)
    {
        Desk.Uncover();
        if (action == "replace")
            Answer(write());
    }
}
