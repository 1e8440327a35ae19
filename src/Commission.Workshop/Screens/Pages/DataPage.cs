using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.Procedures.Aids;

namespace Commission.Workshop.Screens.Pages;

/// <summary>Lines and tables that a step makes, as they stand, over the step; and the way into files. Nothing of it is sent anywhere.</summary>
public sealed class DataPage(Desk desk, ImmutableArray<WorkData> files) : Page(desk)
{
    /// <inheritdoc/>
    public override string Called => "lines";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
        ["These are plain lines of ISO 6983, or a table. You run or print them in your own way; this program sends none of them.", .. files.Select(file => $"{file.Name}: {file.About}")];

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => new()
    {
        Path = $"{Desk.MachineName} / work / lines", Right = string.Create(CultureInfo.InvariantCulture, $"{files.Sum(file => file.Lines.Length)} lines"), Live = Desk.Live,
        Body = [.. files.SelectMany(file => Wrap.To($"{file.Name}: {file.About}", width - 4).Select(text => new Line(" " + text, [new(1, text.Length, Ink.Strong)])).Append(Line.Blank).Concat(file.Lines.Select(line => (Line)(" " + line))).Append(Line.Blank))],
        Next = "A writes them into files. Enter puts the lines away.", Because = "Nothing is sent to a controller by that.",
        Keys = [new("Enter, Esc", "away", "away"), new("A", "into files", "save", Desk.Means.Files is null ? "practice keeps no files" : null), new("PgUp, PgDn", "scroll", "scroll"), new("F1", "help", "help"), new("F2", "card", "card")],
    };

    /// <inheritdoc/>
    public override void FollowNext() => Desk.Uncover();

    /// <inheritdoc/>
    public override void Away() => Desk.Uncover();

    /// <inheritdoc/>
    public override void Deed(string action)
    {
        if (action == "save" && Desk.Means.Files is not null)
            Desk.Cover(Save());
        else if (action == "save")
            Desk.Say("Practice keeps no files.");
        else
            FollowNext();
    }

    private TextPage Save() => new(
        Desk,
        new TextAsked(
            "into files", "Which folder?", $"What is written: {string.Join(", ", files.Select(file => file.Name))}. A file of that name is replaced.", "write it", "Type the path. Enter writes.",
            folder => files.Aggregate<WorkData, Outcome<string>>("", (done, file) => done.Then(paths =>
                Desk.Means.Files!.Write(Path.Combine(folder.Length > 0 ? folder : ".", file.Name), string.Join('\n', file.Lines) + "\n").Then<string>(path => paths.Length == 0 ? path : $"{paths}, {path}")))
                .Then<string>(paths => $"Written to {paths}.")),
        ".");
}
