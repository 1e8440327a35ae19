using System.Globalization;
using Commission.Core;
using Commission.Workshop.Requests;

namespace Commission.Workshop.Screens.Pages;

/// <summary>What is done with the store as a whole, each asked for with one line.</summary>
public static class StoreDeeds
{
    private static readonly Problem NoStore = new("practice that is not kept has no store and no files", "Use the program outside practice");

    /// <summary>Reads in a history that was exported elsewhere.</summary>
    public static TextPage ReadIn(Desk desk) => new(desk, new TextAsked(
        "read in a history", "Which file? Its path, as written by 'commission history export'.",
        "An empty store becomes the one that is read in; beside a store that holds entries the history stands as a second one. Nothing here is changed by it.",
        "read it in", "Type the path. Enter reads it in.",
        path => path.Length == 0
            ? new Problem("no file is named", "Type its path, for example /media/stick/heron.jsonl")
            : desk.Means is { Folder: { } folder, Files: { } files }
                ? new ImportHistory(files, folder).Run(path).Then(count => Read(desk, count))
                : NoStore));

    private static Outcome<string> Read(Desk desk, long count)
    {
        desk.Reread();
        desk.ToBench();
        return string.Create(CultureInfo.InvariantCulture, $"{count} entries read in.{(desk.MachineName is { } name ? $" The machine is {name}." : " No machine is described in them.")}");
    }
}
