using System.Globalization;
using System.Text;
using Commission.Core.Quantities;
using Commission.Core;
using Commission.Core.Machines;
using Commission.Workshop.Requests;

namespace Commission.Workshop.Screens.Pages;

/// <summary>What is done with the store as a whole, each asked for with one line.</summary>
public static class StoreDeeds
{
    private static readonly Problem NoStore = new("practice that is not kept has no store and no files", "Use the program outside practice");

    /// <summary>Why what concerns the machine as a whole waits: a run or a link is of the present one. Null where nothing speaks against it.</summary>
    public static string? Busy(Desk desk) => desk.Running is { } work ? $"{work.Called} is under way: W, then O puts it aside"
        : desk.Link is { IsOpen: true } or { Opening: true } ? "the controller is linked: close the link first" : null;

    /// <summary>Reads in a history that was exported elsewhere.</summary>
    public static TextPage ReadIn(Desk desk) => new(desk, new TextAsked(
        "read in a history", "Which file? Its path, as written by 'commission history export'.",
        "An empty store becomes the one that is read in; beside a store that holds entries the history stands as a second one. Nothing here is changed by it.",
        "read it in", "Type the path. Enter reads it in.",
        path => path.Length == 0 ? new Problem("no file is named", "Type its path, for example /media/stick/heron.jsonl")
            : Busy(desk) is { } busy ? new Problem("nothing is read in now", Words.Capital(busy))
            : desk.Means is { Folder: { } folder, Files: { } files }
                ? new ImportHistory(files, folder).Run(path).Then(count => Read(desk, count, desk.Means.Journal.LastEntry?.Sequence ?? 0))
                : NoStore));

    /// <summary>Writes a report or the card for the wall into a file.</summary>
    public static TextPage Report(Desk desk, bool card) => new(
        desk,
        new TextAsked(
            card ? "wall card" : "report", "Which file? Its ending tells the form: .html, .md or .csv", "Ages and states are those of the last entry, so that the same store gives the same bytes.", "write it", "Type the path. Enter writes the file.",
            path => desk.Means.Files is not { } files ? NoStore : new ReportFile(desk.Means.Journal, files, desk.Means.Program, desk.Means.Shipped).Run(new ReportRequest { Machine = desk.MachineName, Card = card, Units = desk.Units }, path).Then<string>(written =>
            {
                desk.Means.Folder?.RememberReport();
                return $"Written to {Path.GetFullPath(written)}.";
            }),
            Replaces: path => Replaced(desk, path)),
        FileName(desk, card ? "-card" : "", ".html"));

    /// <summary>Writes the report of an earlier day, of two days beside each other, or of one session.</summary>
    public static FormPage ReportOf(Desk desk) => new(
        desk, "report of a day or session",
        [
            new("Which day does it hold for?", "As 2026-03-31; empty: the last entry. Ages and states are those of that day.", "", _ => "") { WhyNot = NoDay },
            new("Compared with which other day?", "As 2025-03-31: what has changed between the two. Empty: no comparison.", "", _ => "") { WhyNot = NoDay },
            new("Of one session only?", "The number of the entry that began it: Enter on its line of the log shows it. Empty: the whole machine.", "", _ => "") { WhyNot = NoEntry },
            new("Which file?", "Its ending tells the form: .html, .md or .csv", "", answers => FileName(desk, answers[1].Length > 0 ? "-compared" : answers[2].Length > 0 ? "-session" : answers[0].Length > 0 ? "-" + answers[0] : "", ".html")),
        ],
        answers => desk.Means.Files is not { } files ? NoStore
            : new ReportFile(desk.Means.Journal, files, desk.Means.Program, desk.Means.Shipped).Run(
                new ReportRequest
                {
                    Machine = desk.MachineName, Units = desk.Units, AsOf = Given(answers[0]), Against = Given(answers[1]),
                    Session = answers[2].Length > 0 ? long.Parse(answers[2], CultureInfo.InvariantCulture) : null,
                },
                answers[3]).Then<string>(written =>
                {
                    desk.Means.Folder?.RememberReport();
                    return $"Written to {Path.GetFullPath(written)}.";
                }),
        "writes the file", answers => Replaced(desk, answers[3]));

    private static string? NoDay(string typed) => typed.Length == 0 ? null : WriteReport.WhyNoInstant(typed)?.ToString();

    private static string? NoEntry(string typed) => typed.Length == 0 || long.TryParse(typed, NumberStyles.None, CultureInfo.InvariantCulture, out _) ? null
        : new Problem($"\"{PlainText.Of(typed)}\" is not the number of an entry", "See the log: L").ToString();

    // What names no form of report is refused anyway.
    private static string? Replaced(Desk desk, string path) => ReportFile.Form(path) is not null && desk.Means.Files?.IsThere(path) == true ? path : null;

    private static string? Given(string text) => text.Length == 0 ? null : text;

    private static string FileName(Desk desk, string what, string ending) => $"{(desk.MachineName ?? "machine").ToLowerInvariant()}{what}{ending}";

    /// <summary>Copies the store to another place and verifies the copy.</summary>
    public static TextPage BackUp(Desk desk) => new(desk, new TextAsked(
        "copy elsewhere", "Which folder? On a stick or another disk; it is made where there is none.", desk.Means.Folder is { } now ? now.CopyAge.Sentence(desk.Now) : "", "copy", "Type the path. Enter copies, then verifies the copy.",
        path => path.Length == 0 ? new Problem("no folder is named", "Type its path, for example /media/stick/heron")
            : desk.Means.Folder is not { } folder ? NoStore
            : folder.BackUp(path).Then<string>(made => string.Create(CultureInfo.InvariantCulture, $"{made.Entries} entries copied to {made.Folder} and verified."))));

    /// <summary>Writes every entry into one file, byte for byte.</summary>
    public static TextPage Export(Desk desk) => new(
        desk,
        new TextAsked(
            "export", "Which file?", "Every entry as it stands, byte for byte. Another store reads it in with I on its log.", "export", "Type the path. Enter writes the file.",
            path => path.Length == 0 ? new Problem("no file is named", "Type its path")
                : desk.Means is not { Folder: { } folder, Files: { } files } ? NoStore
                : files.Write(path, string.Concat(folder.Lines().Select(line => Encoding.UTF8.GetString(line.Span) + "\n"))).Then<string>(written => $"The history is in {written}."),
            Replaces: path => desk.Means.Files?.IsThere(path) == true ? path : null),
        $"{(desk.MachineName ?? "history").ToLowerInvariant()}.jsonl");

    /// <summary>Verifies every entry against its hash and says what was found.</summary>
    public static void Verify(Desk desk)
    {
        if (desk.Means.Folder is not { } folder)
            return;
        var check = folder.Check();
        if (check.Faults.Count > 0)
            desk.Say([.. check.Faults]);
        else
            desk.Say(string.Create(CultureInfo.InvariantCulture, $"{check.Entries} entries verify. Newest backup: {check.NewestBackup ?? "none"}."));
    }

    /// <summary>Enters a value off the wall card of a store that was lost.</summary>
    public static FormPage Adopt(Desk desk) => new(
        desk, "adopt a value",
        [
            new("Which characteristic?", "As fit names it: axis-scale, backlash, squareness, tram, flatness, runout ...", "", _ => "axis-scale"),
            new("Which axis?", "X, Y or Z; empty where it has none.", "", _ => "X"),
            new("Which value stands on the card?", "With its unit: 120ppm, 0.05mm. It counts as adopted and due, not as measured.", "", _ => ""),
        ],
        answers => answers[1].Length > 0 && MachineWords.TypedAxis(answers[1]) is null
            ? new Problem($"\"{PlainText.Of(answers[1])}\" is no axis", "Type X, Y, Z or nothing")
            : new AdoptValues(desk.Means.Journal).Value(desk.MachineName, answers[0], MachineWords.TypedAxis(answers[1]), answers[2]).Then<string>(entry =>
            {
                desk.Refresh();
                return "Adopted, not measured: the bench shows it as due.";
            }));

    /// <summary>Takes the settings of a file as those of a controller whose store was lost.</summary>
    public static TextPage AdoptSettings(Desk desk) => new(desk, new TextAsked(
        "adopt settings", "Which file of settings? Its path, as written by 'commission controller settings save'.",
        "The steps per millimetre in it go into the machine's description. They count as adopted, not as measured.", "adopt them", "Type the path. Enter adopts them.",
        path => path.Length == 0 ? new Problem("no file is named", "Type its path, for example /media/stick/settings.json")
            : Busy(desk) is { } busy ? new Problem("nothing is adopted now", Words.Capital(busy))
            : desk.Means.Files is not { } files ? NoStore
            : files.Read(path).Then(text => new AdoptValues(desk.Means.Journal).Settings(desk.MachineName, path, text)).Then<string>(count =>
            {
                desk.Refresh();
                return string.Create(CultureInfo.InvariantCulture, $"{count} settings adopted, not measured.");
            })));

    // A history that stands beside the store's own is seen on no sheet of this machine: it is said where it can be looked at.
    private static Outcome<string> Read(Desk desk, long count, long own)
    {
        var before = desk.Ledger.LastSequence;
        desk.Reread();
        desk.ToBench();
        if (count == 0)
            return "Nothing new: all of it stands here already.";
        if (before > 1 && own == before)
            return string.Create(CultureInfo.InvariantCulture, $"{count} entries read in as a second history; 'history list' names it.");
        return string.Create(CultureInfo.InvariantCulture, $"{count} entries read in.{(desk.MachineName is { } name ? $" The machine is {name}." : " No machine is described in them.")}");
    }
}
