using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>What can be done with the machine and its store, as a list: one hand, arrows and Enter.</summary>
public sealed class MachineDeedsPage(Desk desk) : ListPage(desk)
{
    /// <inheritdoc/>
    public override string Called => "deeds";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => ["Each of these is a request of the command line too. What cannot be done now says why. Files are named with their path; nothing is written before the last Enter."];

    /// <summary>Which line of the list, from 1, copies the store elsewhere.</summary>
    public const int CopyLine = 8;

    // What a line has room for; the reason of the chosen one stands below, whole.
    private const int MostReason = 35;

    private sealed record What(string Title, string About, Action Do, string? NotNow = null);

    private ImmutableArray<What> Deeds
    {
        get
        {
            var noFiles = Desk.Means.Files is null ? "practice keeps no files" : null;
            var noStore = Desk.Means.Folder is null ? "there is no store on disk here" : null;
            var reads = Desk.WhyNotWritten;
            var other = StoreDeeds.Busy(Desk);
            var busy = reads ?? other;
            return
            [
                new("Correct the description", "one fact at a time", () => Desk.Cover(new FactsPage(Desk)), reads),
                new("Use another machine", $"{Desk.Ledger.Machines.Values.Count(machine => !machine.Retired)} in this store", () => Desk.Cover(new MachinesPage(Desk)), other),
                new("Describe another machine", "seven questions", () => Desk.Show(new SetUpPage(Desk)), busy),
                new("Put this machine out of use", "what was measured stays", () => Desk.Cover(Retire()), busy),
                new("Report", "the whole state, into a file", () => Desk.Cover(StoreDeeds.Report(Desk, card: false)), noFiles),
                new("Report of a day or session", "as of a date, or two compared", () => Desk.Cover(StoreDeeds.ReportOf(Desk)), noFiles),
                new("Card for the wall", "one page, into a file", () => Desk.Cover(StoreDeeds.Report(Desk, card: true)), noFiles),
                new("Copy the store elsewhere", "a verified copy on a stick", () => Desk.Cover(StoreDeeds.BackUp(Desk)), noStore),
                new("Export the history", "every entry, into one file", () => Desk.Cover(StoreDeeds.Export(Desk)), noStore ?? noFiles),
                new("Read in a history", "from another computer", () => Desk.Cover(StoreDeeds.ReadIn(Desk)), noStore ?? busy),
                new("Verify every entry", "each against its hash", () => StoreDeeds.Verify(Desk), noStore),
                new("Compute all findings again", "old and new beside each other", () => Desk.Cover(new WordsPage(Desk, "computed again", Recomputed()))),
                new("Adopt a value off a card", "after a store was lost", () => Desk.Cover(StoreDeeds.Adopt(Desk)), reads),
                new("Adopt a file of settings", "after a store was lost", () => Desk.Cover(StoreDeeds.AdoptSettings(Desk)), noFiles ?? busy),
                new("Fit a file of readings", "a finding from a table", () => Desk.Cover(FitFilePage.Asked(Desk)), noFiles),
                new("Published cases", "what the arithmetic is held against", () => Desk.Cover(new WordsPage(Desk, "published cases", Proved()))),
                new("Looks", Desk.Look ?? "as the terminal was started", () => Desk.NextLook()),
                new("Bells", Desk.Cues ? "on" : "off", () => Desk.SwitchCues()),
                new("Practice", "a simulated machine, nothing kept", () => Desk.Means.StartPractice?.Invoke(), Desk.IsPractice ? "this is practice" : Desk.Means.StartPractice is null ? "commission rehearse begins it" : other),
            ];
        }
    }

    /// <inheritdoc/>
    protected override int Count => Deeds.Length;

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        var deeds = Deeds;
        var at = deeds[Chosen];
        return ListSheet.Of(
            new ListView
            {
                Path = $"{Desk.MachineName} / machine / deeds", Right = Desk.Today, Live = Desk.Live, Head = "   what                            ", Chosen = Chosen,
                Lines = [.. deeds.Select(deed => $"{deed.Title,-32}{(deed.NotNow is not { } why ? deed.About : why.Length <= MostReason ? "not now: " + why : "not now")}")],
                Step = at.NotNow is { } not ? ($"{at.Title}: not now.", $"Because: {not}.") : ($"{at.Title}. Enter begins it.", "Nothing is changed before the last Enter."),
                Keys = [new("Enter", "begin", "next", at.NotNow), new("Up, Down", "choose", "choose"), new("Esc", "machine", "away"), new("N", "note", "note"), new("F1", "help", "help"), new("F2", "card", "card")],
            },
            height);
    }

    /// <inheritdoc/>
    public override void FollowNext()
    {
        var at = Deeds[Chosen];
        if (at.NotNow is { } why)
            Desk.Say($"{at.Title}: {why}.");
        else
            at.Do();
    }

    private TextPage Retire() => new(Desk, new TextAsked(
        "out of use", $"Put {Desk.MachineName} out of use? Type its name to do it.", "Its results, its log and its reports stay. It is no longer offered; describing it anew brings it back.", "out of use", "Type the name. Enter puts it out of use.",
        typed => typed != Desk.MachineName
            ? new Core.Problem($"the machine is called {Desk.MachineName}", "Type its name, or Esc")
            : new DescribeMachine(Desk.Means.Journal).Retire(Desk.MachineName).Then<string>(machine =>
            {
                Desk.Refresh();
                Desk.Use(null);
                Desk.ToBench();
                return $"{machine.Name} is out of use.{(Desk.MachineName is { } other ? $" The machine is {other} now." : "")}";
            })));

    private ImmutableArray<string> Recomputed()
    {
        var all = new Recompute(Desk.Means.Journal, CharacteristicKinds.Find).Run(Desk.MachineName);
        return all.IsEmpty ? ["There is no finding to compute again."] : [.. all.Select(one => string.Create(CultureInfo.InvariantCulture, $"{one.Made.Sequence}  {FindingPage.Named(one.Made.Body)}: {one.Text}"))];
    }

    private static ImmutableArray<string> Proved() =>
        [.. Prove.Run().Select(one => string.Create(CultureInfo.InvariantCulture, $"{one.Kind}, {one.Case.Quantity}: published {one.Case.Published}, computed {one.Computed:G10}, {one.Digits:0.0} digits{(one.Holds ? "" : ", FALLS SHORT")}. {one.Case.Source}"))];
}

/// <summary>The machines of the store.</summary>
public sealed class MachinesPage(Desk desk) : ListPage(desk)
{
    /// <inheritdoc/>
    public override string Called => "machines";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => ["Machines of this store that are in use. Two machines may share one cable: which one is linked is asked on the controller's page."];

    private ImmutableArray<string> Names => [.. Desk.Ledger.Machines.Values.Where(machine => !machine.Retired).Select(machine => machine.Description.Name)];

    /// <inheritdoc/>
    protected override int Count => Names.Length;

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => ListSheet.Of(
        new ListView
        {
            Path = $"{Desk.MachineName} / machines", Right = string.Create(CultureInfo.InvariantCulture, $"{Count} in use"), Live = Desk.Live, Head = "   machine", Chosen = Chosen,
            Lines = [.. Names.Select(name => name + (name == Desk.MachineName ? "   <- this one" : ""))],
            Step = ("Enter uses the chosen one.", "Everything shown is of one machine; its name stands in every frame."),
            Keys = [new("Enter", "use it", "next"), new("Up, Down", "choose", "choose"), new("Esc", "away", "away"), new("F1", "help", "help"), new("F2", "card", "card")],
        },
        height);

    /// <inheritdoc/>
    public override void FollowNext()
    {
        Desk.Use(Names[Chosen]);
        Desk.ToBench();
        Desk.Say($"The machine is {Desk.MachineName}.");
    }
}
