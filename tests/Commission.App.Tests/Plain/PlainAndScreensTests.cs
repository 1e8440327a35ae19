using System.Collections.Immutable;
using System.Text.RegularExpressions;
using Commission.App.CommandLine;
using Commission.App.Manual;
using Commission.App.Tests.Architecture;
using Commission.Tests;
using Commission.Workshop.Screens.Pages;

namespace Commission.App.Tests.Plain;

/// <summary>What a key of a screen does, question and answer does too, and the other way round; where one of them lacks something the reason stands here.</summary>
public sealed partial class PlainAndScreensTests
{
    private const string Looks = "it only shows or moves what is shown; in plain mode all of it is printed";

    /// <summary>What a key asks for, and how it is asked in plain mode: a request with an option, the words of a question of a run, or why it needs none.</summary>
    private static readonly (string Actions, string Way, string Note)[] Keys =
    [
        ("accept confirm decline yes start read take", "says", "yes or S for yes, no ends here"), ("confirm", "says", "Type the words at the end to move"), ("decline", "says", "Q to put the run aside"),
        ("next finding-next", "verb", "history next"), ("place", "verb", "history list"), ("leave leave-run", "says", "{Quit}."),
        ("again slip-again", "says", "R reads the last one again"), ("slip-again", "says", "R reads it again"), ("slip-suggested", "says", "A takes"), ("slip-keep", "says", "O keeps it, marked in the report"),
        ("take-again", "verb", "procedure run --anew"), ("leave-out", "verb", "history exclude"), ("slip-earlier", "says", "A reads reading {other.CellIndex + 1}"), ("slip-own-zero", "says", "A gives it and what follows a zero of its own"), ("type-again", "says", "R answers anew"), ("doubt-meant", "says", "A takes {meant}"), ("doubt-keep", "says", "{keeps} stores {typed}"),
        ("exclude", "verb", "history exclude"), ("exclude undo-reading", "says", "X and a reason leaves it out"), ("undo-reading", "says", "takes the last answer back"), ("skip", "says", "skip and a reason passes it over"),
        ("replace", "verb", "report --out"), ("aside aside-yes no", "says", "no puts the run aside"), ("resume-aside", "says", "Q puts the run aside"), ("resume", "verb", "procedure run"), ("resume-anew", "verb", "procedure run --anew"),
        ("leave-change", "says", "O to leave it as it is"), ("change-done", "says", "yes or S: it is done"), ("finding-leave", "verb", "history note --about"), ("counted", "says", "empty takes what it counted"),
        ("add", "verb", "instrument add"), ("check", "verb", "instrument check"), ("retire", "verb", "instrument retire"), ("study who", "verb", "procedure run --operator"),
        ("change", "verb", "history change"), ("note", "verb", "history note"), ("withdraw undo", "verb", "history withdraw"), ("import", "verb", "history import"),
        ("correct", "verb", "machine edit"), ("new-machine", "verb", "machine new"), ("practice", "verb", "rehearse"), ("cut-line", "verb", "history check"),
        ("keep", "verb", "fit --keep"), ("drop", "verb", "fit"), ("plan plans so-far", "verb", "plan"), ("take", "verb", "fit --keep"),
        ("details raw verdict", "verb", "history show"), ("how data", "verb", "procedure show --sheet"), ("save", "verb", "procedure run --data"), ("series", "verb", "history trend"),
        ("open lines", "verb", "controller watch --no-control-lines"), ("name-port", "verb", "controller watch --port"), ("read-again", "verb", "controller settings compare"), ("older", "verb", "controller settings restore"),
        ("wire", "verb", "controller settings write --record"), ("home home-by-letter", "verb", "procedure run --attended"), ("this-machine other-machine", "says", "Is it {Words.Clean(machine)} all the same?"),
        ("stop-false", "says", "A a false alarm"), ("stop-unknown", "says", "O not known, treated like S"), ("stop-crash", "says", "S something was hit, jammed or sounded wrong"), ("help", "verb", "procedure show"),
        ("stop", "only", "while it moves every line that is typed is STOP, and Ctrl+C"), ("close", "only", "the link is closed when the request ends"),
        ("forget", "only", "a port is named each time, so none is remembered"), ("look", "only", "the simulated operator of rehearse --walk reads by itself"),
        ("away back card card-do choose large picture scroll", "only", Looks),
    ];

    /// <summary>The list of deeds with machine and store.</summary>
    private static readonly (string Title, string Way)[] Deeds =
    [
        ("Correct the description", "machine edit"), ("Use another machine", "machine show"), ("Describe another machine", "machine new"), ("Put this machine out of use", "machine retire"), ("Report", "report --out"),
        ("Report of a day or session", "report --as-of"), ("Card for the wall", "report --card"), ("Copy the store elsewhere", "history backup"), ("Export the history", "history export"), ("Read in a history", "history import"),
        ("Verify every entry", "history check"), ("Compute all findings again", "history recompute"), ("Adopt a value off a card", "history adopt"), ("Adopt a file of settings", "history adopt"), ("Fit a file of readings", "fit"),
        ("Published cases", "prove"), ("Practice", "rehearse"), ("Looks", ""), ("Bells", ""),
    ];

    // Requests that no key asks for.
    private static readonly (string Trail, string Why)[] WithoutKey =
    [
        ("completions", "it is for the shell"), ("manual", "help and handbook stand on F1"), ("procedure check", "who writes a procedure works in an editor beside a shell"),
        ("machine list", "M, Enter, Use another machine lists them"), ("procedure list", "W lists them"), ("instrument list", "K lists them"), ("instrument show", "Enter on K"), ("controller ports", "C lists them"),
        ("controller settings save", "opening the link saves them"),
    ];

    [Fact]
    public void Whatever_a_key_does_plain_mode_does_or_the_reason_stands_here()
    {
        var known = Keys.SelectMany(row => row.Actions.Split(' ')).Distinct().Order(StringComparer.Ordinal);
        var asked = Source("Commission.Workshop", "Screens").Where(file => !file.Path.EndsWith("BenchRows.cs", StringComparison.Ordinal))
            .SelectMany(file => Action().Matches(file.Text).Select(match => match.Groups[1].Value)).Distinct().Order(StringComparer.Ordinal);
        Assert.Equal(asked, known);
        var plain = string.Concat(Source("Commission.App", "Plain").Concat(Source("Commission.App", "Attended")).Select(file => file.Text));
        Assert.All(Keys.Where(row => row.Way == "says"), row => Assert.Contains(row.Note, plain, StringComparison.Ordinal));
        Assert.All(Keys.Where(row => row.Way == "verb"), row => Assert.True(Offered(row.Note), row.Note));
    }

    [Fact]
    public void Each_deed_with_machine_and_store_is_a_request_of_plain_mode()
    {
        var page = Source("Commission.Workshop", "Screens").Single(file => file.Path.EndsWith(nameof(MachineDeedsPage) + ".cs", StringComparison.Ordinal)).Text;
        Assert.Equal(DeedTitle().Matches(page).Select(match => match.Groups[1].Value).Order(StringComparer.Ordinal), Deeds.Select(deed => deed.Title).Order(StringComparer.Ordinal));
        Assert.All(Deeds.Where(deed => deed.Way.Length > 0), deed => Assert.True(Offered(deed.Way), deed.Way));
        // Plain mode has no colours, and rings no bell.
        Assert.Equal(["Looks", "Bells"], Deeds.Where(deed => deed.Way.Length == 0).Select(deed => deed.Title));
    }

    [Fact]
    public void Whatever_plain_mode_asks_for_has_its_key_or_the_reason_stands_here()
    {
        var reached = Keys.Where(row => row.Way == "verb").Select(row => row.Note).Concat(Deeds.Select(deed => deed.Way)).Concat(WithoutKey.Select(row => row.Trail)).Select(way => way.Split(" --")[0]).ToHashSet();
        var requests = Nodes().Where(node => node.Verbs.IsEmpty && node.Trail.Length > 0).Select(node => node.Trail.Split(' ')[0] is "fit" or "plan" ? node.Trail.Split(' ')[0] : node.Trail).Distinct();
        Assert.Equal([], requests.Except(reached));
        Assert.All(WithoutKey, row => Assert.True(Offered(row.Trail), row.Trail));
    }

    // The request is there, and so is its option where one is named.
    private static bool Offered(string way)
    {
        var parts = way.Split(" --");
        var under = Nodes().Where(node => node.Trail == parts[0] || (parts[0] is "fit" or "plan" && node.Trail.StartsWith(parts[0] + " ", StringComparison.Ordinal))).ToList();
        return under.Count > 0 && (parts.Length == 1 || under.Exists(node => node.Options.Any(option => option.Name == "--" + parts[1])));
    }

    private static ImmutableArray<CommandTree.Node> Nodes() =>
        CommandTree.Of(Composition.Compose(new Surroundings { In = TextReader.Null, Out = TextWriter.Null, Error = TextWriter.Null, DefaultStore = Path.GetTempPath() }).Root());

    private static IEnumerable<(string Path, string Text)> Source(params string[] folder) =>
        Directory.GetFiles(Path.Combine([Repository.Root, "src", .. folder]), "*.cs", SearchOption.AllDirectories).Select(file => (file, File.ReadAllText(file)));

    // A key, its word, and what it asks for.
    [GeneratedRegex("""new(?: SheetKey)?\((?:\$?"[^"]*"|[\w.\[\]]+(?:\(\))?), (?:[^,"()]*(?:\([^()]*\))?[^,"()]*"[^"]*"[^,"]*(?:"[^"]*"[^,"]*)*|[\w.]+), \$?"([a-z-]+)""")]
    private static partial Regex Action();

    [GeneratedRegex("""^ +new\("([A-Z][^"]+)", \$?"?""", RegexOptions.Multiline)]
    private static partial Regex DeedTitle();
}
