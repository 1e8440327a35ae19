using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;
using Commission.Core.Quantities;
using Commission.Workshop.Controllers;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>The controller: the link, its settings against what is known, who wrote what.</summary>
public sealed class ControllerPage(Desk desk) : Page(desk)
{
    private const int MostNamed = 6;

    private int _chosen;
    // A port that comes later is listed and not marked: what S opens is chosen by a key, or was there when the page was opened.
    private ControllerAddress? _marked = desk.Link?.Addresses.FirstOrDefault();
    private bool _raised = desk.Link?.Known?.ControlLines ?? true;

    /// <inheritdoc/>
    public override string Called => "controller";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
    [
        "Everything works without a link: you command the moves, this program writes down.",
        "No port is opened because it exists. S opens the chosen one after you have read what that does to the machine.",
        "Raised control lines restart many boards when the port is opened, and are what some wait for; O leaves them down. Where the system refuses them the port is opened without, and it is said.",
        "With the link the settings are read, kept and compared with what is known: as first saved, and as written by this program or told since.",
        "What differs is put back, kept or marked as not known: Enter opens the three. V puts back an older set, in the same boxes.",
    ];

    private DeskLink? Link => Desk.Link;

    private ImmutableArray<ControllerAddress> Addresses => Link?.Addresses ?? [];

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => Link is { IsOpen: true } link ? link.Lost is { } why ? Lost(why) : Linked(link) : Link is null ? NoLink() : Opening();

    /// <inheritdoc/>
    public override IEnumerable<Line> Notes(int room, int rows) =>
    [
        .. Link is { IsOpen: true, Lost: null } linked ? SideNotes.Part("OPEN CHECKS", linked.Now?.Gate.Facts.MissingChecks is { IsEmpty: false } open ? [string.Join(", ", open)] : [], room).Concat(SideNotes.Part("WRITTEN OR TOLD", Written(12).Select(line => line.Text.Trim()), room)) : [],
        .. SideNotes.Part("THIS SHEET", Help, room),
    ];

    /// <inheritdoc/>
    public override void Choose(int by, bool sideways)
    {
        if (Link is { IsOpen: true })
            _chosen = Math.Clamp(_chosen + by, 0, Math.Max(0, Compared().Count(one => one.Differs) - 1));
        else if (Addresses is { IsEmpty: false } listed)
            _marked = listed[Math.Clamp((_marked is { } marked ? listed.IndexOf(marked) : -1) + by, 0, listed.Length - 1)];
    }

    /// <inheritdoc/>
    public override void FollowNext()
    {
        if (Link is { IsOpen: true } link)
        {
            if (link.Lost is not null)
                link.Close();
            else if (link.Doubt is not null)
                Desk.Say("S means: it is this machine. O: it is another one; nothing moves.");
            else if (link.Settings is null)
                Deed("read-again");
            else if (Chosen([.. Compared().Where(one => one.Differs)]) is { } chosen)
                Desk.Cover(new DecidePage(Desk, chosen));
            else if (link.Now?.Gate.Facts.MissingChecks is { IsEmpty: false } && Readiness is { } readiness)
                Desk.Show(new OverviewPage(Desk, readiness, null) { From = 'C' });
            else if (IsSilent(link))
                Deed("read-again");
            else if (!Desk.ShowsLoss(link) && NeedsHome(link))
                HomeOrList(link);
            else if (!HasLost(link))
                Desk.ToBench();
        }
        else if (Link is not null && !Addresses.IsEmpty)
        {
            Desk.Say("Enter opens no port. S means: read, done by me; it opens the chosen one.");
        }
        else
        {
            Desk.ToBench();
        }
    }

    /// <inheritdoc/>
    public override void Deed(string action)
    {
        switch (action)
        {
            case "open" when Link is { Opening: false } link:
                Open(link);
                break;
            case "name-port":
                Desk.Cover(new TextPage(Desk, new TextAsked(
                    "a port", "Which port? Its name or path, as the system has it.", "For one that the list does not show. Nothing is opened by naming it.", "into the list", "Type it. Enter puts it into the list.", Named)));
                break;
            case "lines":
                _raised = !_raised;
                Desk.Say(_raised ? "The control lines are raised on opening: many boards restart by them, some wait for them." : "The control lines are left down on opening: for boards that restart by them.");
                break;
            case "this-machine":
                Link!.TellIdentity(true);
                Desk.Say($"It is {Desk.MachineName}: the log keeps that you said so.");
                Desk.Write(new EntryBody.Confirmed("identity", $"the controller is that of {Desk.MachineName}") { Machine = Desk.MachineName, Operator = Desk.Operator });
                break;
            case "other-machine":
                Link!.TellIdentity(false);
                Link.Close();
                break;
            case "read-again":
                Link!.ReadSettings();
                Desk.Say("The settings are read again and compared.");
                break;
            case "older" when Link is { IsOpen: true }:
                Desk.Cover(new OlderSetsPage(Desk));
                break;
            case "wire" when Link is { Settings: { } settings }:
                Desk.Cover(new WordsPage(Desk, "settings as received", [.. settings.Now.Select(one => $"{one.Key}   {one.Text}{(one.Unit is { } unit ? " " + unit : "")}   {SettingName.OfSaved(one.Name)}")]));
                break;
            case "forget" when Link is { } link:
                link.Forget();
                Desk.Say("The port is forgotten: S on a route card opens none.");
                break;
            case "close":
                Link!.Close();
                break;
            case "home" when Link is { } link:
                HomeOrList(link);
                break;
            default:
                FollowNext();
                break;
        }
    }

    // What was marked is opened or nothing: a port may have come or gone since the list was drawn.
    private void Open(DeskLink link)
    {
        if (_marked is not { } marked || !Addresses.Contains(marked))
        {
            Desk.Say($"{(_marked is { } gone ? Core.PlainText.Of(gone.Port) + " is not there any more" : "No port was chosen")}. Nothing was opened; Up and Down choose.");
            return;
        }

        link.Open(marked with { ControlLines = _raised });
        Desk.Say("The port is being opened. Nothing else waits for it.");
    }

    // A port that is named stands first in the list from then on, and is the chosen one.
    private Core.Outcome<string> Named(string port)
    {
        var named = Link!.Name(port);
        if (named is Core.Outcome<string>.Good)
            _marked = Addresses.FirstOrDefault();
        return named;
    }

    private static bool IsSilent(DeskLink link) => link.Now is { } now && LinkWords.IsSilent(now);

    private static bool HasLost(DeskLink link) => link.Now?.Gate.State is TrustState.Stopped;

    private static bool NeedsHome(DeskLink link) => link.Now?.Gate.State is TrustState.Unreferenced or TrustState.Locked;

    // What homing waits for has a list of its own for a machine that already runs; a first power-up that was begun holds it too.
    private void HomeOrList(DeskLink link)
    {
        if (HomingWaits(link) is not null && FirstMoves is { } list)
            Desk.Show(new OverviewPage(Desk, list, null) { From = 'C' });
        else
            Home(link);
    }

    private Core.Procedures.Procedure? FirstMoves => (Desk.MachineName is { } name && Desk.Ledger.Resumable(name, "first-power-up") is not null ? (string[])["first-power-up", "first-moves"] : ["first-moves", "first-power-up"])
        .Select(id => Desk.Means.Procedures.FirstOrDefault(procedure => procedure.Id == id)).FirstOrDefault(procedure => procedure is not null);

    // Checks without which no axis seeks its switch; null where none is open.
    private static string? HomingWaits(DeskLink link) => link.Now?.Gate.Facts is not { HasSwitches: true } facts ? null
        : facts.DirectionChecked.Count < 3 ? "The direction of every axis (P25)" : facts.HomingTestPassed ? null : "The watched slow homing test (P27)";

    private static bool UnlocksFirst(Gate gate) => StepMotion.Next(null, gate) is { Act: MotionAct.Unlock };

    // A machine without switches is put on its reference places instead, an axis a box; a lock that homing cannot leave is left first.
    private void Home(DeskLink link)
    {
        if (link.Informed() is not { } gate || Desk.ShowsLoss(link))
            return;
        if (StepMotion.Next(null, gate) is not { } next)
            Desk.Say([StepMotion.WhyNone(gate)]);
        else
            link.Ask(next.Act, box => new MotionPage(Desk, box, $"{Desk.MachineName} / controller", MotionPage.Named(next.Act), Reason(gate)), how => Led(link, how));
    }

    private void Led(DeskLink link, Ports.MotionEnd how)
    {
        if (how is Ports.MotionEnd.Reached && NeedsHome(link))
            Home(link);
    }

    private static string Reason(Gate gate) => gate.Facts.HasSwitches
        ? "Because: positions are not trusted before the machine has homed."
        : "Because: nothing is trusted before every axis was put on its place.";

    private Sheet NoLink() => new()
    {
        Path = $"{Desk.MachineName} / controller", Right = "no link", Live = Desk.Live,
        Body =
        [
            " No controller is linked, and no port is opened because it exists: opening one",
            " can restart a controller, switch outputs or let the drives go.", Line.Blank, .. Written(10),
        ],
        Next = "Enter goes back to the bench.", Because = "Everything works without a link.",
        Keys = [new("Enter", "bench", "away"), new("F1", "help", "help"), new("F2", "card", "card")],
    };

    private Sheet Lost(string why) => QuestionSheet.Of(new QuestionView
    {
        Path = $"{Desk.MachineName} / controller", Right = "link lost", Live = Desk.Live, Text = $"The link is lost: {why}.",
        About =
        [
            "Nothing more is sent, STOP neither. Look at the machine: does anything still move? If it does, hit the wired emergency stop.",
            "Readings that were accepted are on disk. Put the cable back; the link is then opened anew, and what it does to the machine is asked first.",
        ],
        Step = ("Enter closes the lost link.", "Because: nothing opens again by itself."),
        Keys = [new("Enter", "close it", "next"), new("Esc", "bench", "away"), new("N", "note", "note"), new("F1", "help", "help"), new("F2", "card", "card")],
    });

    private Sheet Opening()
    {
        var addresses = Addresses;
        var known = Link!.Known;
        return new Sheet
        {
            Path = $"{Desk.MachineName} / controller", Right = Link!.Opening ? "opening" : "no link", Live = Desk.Live,
            Body =
            [
                addresses.IsEmpty ? Link!.CanBeNamed ? " No port was found. Plug the cable in; C looks again, P names one." : " No port was found. Plug the cable in; C looks again." : " Which one? Up and Down choose.",
                .. addresses.Select(address => (Line)($"{(address == _marked ? ">>" : "  ")}   {address.Port,-40} {address.Dialect}{((known?.Port, known?.Dialect) == (address.Port, address.Dialect) ? "   known" : "")}")),
                $" Control lines: {(_raised ? "raised on opening (O: leave them down)" : "left down on opening (O: raise them)")}. Kept with the port.",
                Line.Blank,
                .. HazardBlock.Lines(
                [
                    new("Opening a port can restart the controller; outputs may switch, drives may let go.", "Spindle unplugged? No job running? Z supported by a block of wood?"),
                    new("A job that runs there would be cut off in the middle.", "End it first, at the machine."),
                ]),
                Line.Blank, .. UnderWay, .. Written(5),
            ],
            Next = addresses.IsEmpty ? "Plug the cable in, then C looks again. Enter: bench." : "Read this and do what it asks. S opens the chosen one.",
            Because = addresses.IsEmpty ? "Because: everything works without a link; no port is opened by looking." : "S means: done, by me, now. Enter opens nothing.",
            Keys =
            [
                new("S", "open", "open", addresses.IsEmpty ? "no port was found" : Link.Opening ? "it is being opened" : null), .. addresses.IsEmpty ? (ReadOnlySpan<SheetKey>)[new("Enter", "bench", "next"), new("C", "look again", "place")] : [new("Up, Down", "choose", "choose")], new("O", "control lines", "lines"), .. Link.CanBeNamed ? (ReadOnlySpan<SheetKey>)[new("P", "another port", "name-port")] : [],
                new("E", "forget the known port", "forget", known is null ? "no port is known for this machine" : null), new("Esc", "bench", "away"), new("F1", "help", "help"), new("F2", "card", "card"),
            ],
        };
    }

    private Sheet Linked(DeskLink link)
    {
        var compared = Compared();
        var differing = compared.Where(one => one.Differs).ToList();
        var (next, because) = Step(link, differing);
        var said = link.Doubt is { } doubt ? "Which machine is this? " + doubt + "." : link.Interrupted is { } cut ? cut + "." : Desk.UnderWay is { } move ? move.Told + "." : null;
        var saves = Desk.Ledger.SettingsSaved.Where(saved => saved.Body.Machine == Desk.MachineName).Select(saved => saved.At.ToString("d MMM", CultureInfo.InvariantCulture)).Distinct().TakeLast(3);
        return ControllerSheet.Of(new ControllerView
        {
            Machine = Desk.MachineName!, Right = $"{Desk.Today} . linked {link.OpenedAt?.ToString("HH:mm", CultureInfo.InvariantCulture)}", Live = Desk.Live, KnownAt = KnownAt(link), Rows = [.. Rows(compared)],
            Count = link.Settings is not { } read ? "No settings were read yet."
                : string.Create(CultureInfo.InvariantCulture, $"{read.Now.Length} settings read and compared, {differing.Count} differ{(differing.Count == 1 ? "s" : "")}.   saved: {string.Join(", ", saves)}"),
            About = said is not null ? [Words.Capital(said)] : Chosen(differing) is { } chosen ? [About(chosen)] : [.. TooFast(compared)], Step = (next, because), Keys = Keys(link, differing.Count),
        });
    }

    private Core.Procedures.Procedure? Readiness => Desk.Means.Procedures.FirstOrDefault(procedure => procedure.Id == "readiness");

    private ImmutableArray<SheetKey> Keys(DeskLink link, int differing) =>
    [
        .. link.Doubt is not null ? (ReadOnlySpan<SheetKey>)[new("S", "this machine", "this-machine"), new("O", "another one", "other-machine")]
            : [new("Enter", link.Settings is null ? "read them" : differing > 0 ? "decide" : link.Now?.Gate.Facts.MissingChecks is { IsEmpty: false } && Readiness is not null ? "readiness" : IsSilent(link) ? "ask it again" : HasLost(link) ? "what happened" : NeedsHome(link) ? FirstWord(link) : "bench", "next")],
        new("R", "read again", "read-again"), new("V", "older sets", "older", link.Doubt is null ? null : "which machine this is comes first"), new("D", "wire text", "wire"), new("N", "note", "note"), new("F2", "card", "card"),
        new("H", "home", "home-by-letter", WhyNoHomeByLetter(link)), new("Q", "close the link", "close") { Quiet = true }, new("E", "forget the port", "forget", link.Known is null ? "no port is known for this machine" : null) { Quiet = true }, new("F1", "help", "help") { Quiet = true },
    ];

    // What Enter draws or opens before the position is trusted.
    private string FirstWord(DeskLink link) => link.Now!.Gate is { Facts.HasSwitches: false } ? "place" : HomingWaits(link) is not null && FirstMoves is { } list ? ResultName.Of(list.Id) : UnlocksFirst(link.Now.Gate) ? "unlock" : "home";

    private string WhyNoHomeByLetter(DeskLink link) => link.Now?.Gate.State is TrustState.Homed or TrustState.Placed ? "the position is trusted already"
        : !NeedsHome(link) || FirstWord(link) != "home" ? "something else comes first: NEXT names it" : "Enter draws its box: no box is opened by the letter that confirms it";

    private (string, string) Step(DeskLink link, List<ComparedSetting> differing) => link switch
    {
        { Doubt: not null } => ("S: it is this machine. O: it is another one.", "Because: two machines may share this cable; nothing moves before it is settled."),
        { Settings: null } => ("The settings are not read yet. Enter reads them again.", "Because: by them it is seen which machine this is; nothing moves before."),
        _ when Chosen(differing) is { } chosen => ($"{Words.Capital(chosen.Words)}: put back, keep, or do not know? Enter opens the three.", differing.Count == 1 ? "Because: results taken with other settings must not be mixed unseen." : $"Because: results must not be mixed unseen. {differing.Count} differ: Up, Down choose."),
        _ when link.Now?.Gate.Facts.MissingChecks is { IsEmpty: false } open && Readiness is not null => ($"{(open.Length <= MostNamed ? string.Join(", ", open) : string.Create(CultureInfo.InvariantCulture, $"{open.Length} checks"))} {(open.Length == 1 ? "is" : "are")} open. Enter opens their list.", "Because: the emergency stop comes before the first move."),
        _ when link.Now?.Gate.Facts.MissingChecks is { IsEmpty: false } missing => ($"Nothing moves yet: {string.Join(", ", missing)} must stand as passed.", "Because: the emergency stop comes before the first move. W has the readiness list."),
        _ when IsSilent(link) => ("It does not answer. Look at power and cable; Enter asks it again.", "Because: nothing moves before it tells its state."),
        _ when HasLost(link) => ("Something happened that is still to be read. Enter shows it.", "Because: nothing moves before it was read."),
        _ when NeedsHome(link) && link.Now!.Gate is { Facts.HasSwitches: false } gate => ("Put each axis on its reference place. Enter draws the first box.", Reason(gate)),
        _ when NeedsHome(link) && HomingWaits(link) is { } open => ($"{open} comes first. {(FirstMoves is null ? "W has its list." : "Enter opens its list.")}", "Because: no axis seeks its switch before that was seen."),
        _ when NeedsHome(link) && UnlocksFirst(link.Now!.Gate) => ("Unlock first. Enter draws its box; U in it unlocks. Then home.", "Because: the controller is locked, and this lock does not allow homing."),
        _ when NeedsHome(link) => ("Home. Enter draws its box; H in the box homes.", Reason(link.Now!.Gate)),
        { Now.Gate: { State: TrustState.Shut } shut } when MotionRules.NotOurs(shut) is { } job => ($"{Words.Capital(job)}. End it at the machine. Enter: bench.", "Because: nothing is moved by this program before it rests."),
        _ => ("Enter goes back to the bench.", "The settings are those that were known."),
    };

    private ComparedSetting? Chosen(List<ComparedSetting> differing) => differing.Count == 0 ? null : differing[Math.Clamp(_chosen, 0, differing.Count - 1)];

    private string KnownAt(DeskLink link) => Desk.Ledger.SettingsSaved.LastOrDefault(saved => saved.Body.Machine == Desk.MachineName && saved.At < link.OpenedAt)?.At.ToString("d MMM", CultureInfo.InvariantCulture) ?? "";

    // All settings that are in the controller now, beside what is known of them.
    private ImmutableArray<ComparedSetting> Compared()
    {
        if (Link is not { Settings: { } settings, Address: { } address } link)
            return [];
        var dialect = link.Dialect;
        var known = SettingWords.Known(Desk.Ledger, Desk.MachineName, dialect?.Name ?? address.Dialect, dialect?.Settings).ToDictionary(one => one.Key);
        return [.. settings.Now.Select(now => new ComparedSetting(now, known.GetValueOrDefault(now.Key), dialect?.Settings.Find(now.Key)))];
    }

    // Every setting of an axis has its row; one without an axis only where it differs.
    private IEnumerable<SettingRow> Rows(ImmutableArray<ComparedSetting> compared)
    {
        var chosen = Chosen([.. compared.Where(one => one.Differs)]);
        var last = "";
        foreach (var one in compared.Where(one => one.Setting is { Axis: not null }).Concat(compared.Where(one => one.Differs && one.Setting is not { Axis: not null })))
        {
            var written = Desk.Ledger.SettingsWritten.LastOrDefault(write => SettingWords.IsOf(write.Body, one.Now.Key, Link?.Dialect?.Settings) && write.Body.Machine == Desk.MachineName && !write.Body.IsIntended());
            var unit = one.Name != last && one.Setting?.Unit is { } named && !named.StartsWith("steps", StringComparison.Ordinal) ? named : "";
            yield return new(one.Name == last ? "" : one.Name, one.Setting?.Axis?.ToString() ?? "", one.InIt, one.KnownText)
            {
                Difference = one.Difference, Unit = unit, Most = Most(one) is { } most ? SettingWords.Value("", "", most) : "", Differs = one.Differs, Chosen = one == chosen,
                By = one.Differs ? Begun(one) ? "us, unread" : "NOT BY US" : written is null ? "" : (written.Body.IsTold() ? "told, " : "us, ") + written.At.ToString("d MMM", CultureInfo.InvariantCulture),
            };
            last = one.Name;
        }
    }

    // Begun by this program and never read back: that it differs is its own doing, whether setting it back was begun after that or not.
    private bool Begun(ComparedSetting one) => Desk.Ledger.SettingsWritten.Reverse().Where(write => write.Body.Key == one.Now.Key && write.Body.Machine == Desk.MachineName)
        .TakeWhile(write => write.Body.IsIntended()).Any(begun => begun.Body.After == one.Now.Value);

    private double? Most(ComparedSetting one) => FastestFeed.Exceeded(Desk.Ledger, Desk.MachineName, one.Setting, one.Now.Value);

    // A machine that is set faster than its own finding allows looks all right everywhere else.
    private IEnumerable<string> TooFast(ImmutableArray<ComparedSetting> compared)
    {
        var beyond = compared.Where(one => Most(one) is not null).ToList();
        if (beyond.Count > 0)
            yield return $"Faster than the speed ladder allows: {string.Join(", ", beyond.Select(one => $"{one.Words} {one.InIt}, at most {SettingWords.Value("", "", Most(one))}"))}{beyond[0].Unit}. Set it lower in the controller; R reads it again.";
    }

    private static string About(ComparedSetting one)
    {
        var stale = one.Stale is { } items ? $" Kept, it makes stale what was found with the old one: {items}." : "";
        return $"{Words.Capital(one.Words)} was {one.KnownText}{one.Unit} as far as is known. It is {one.InIt}{one.Unit}, and this program did not write it.{stale}";
    }

    private IEnumerable<Line> UnderWay => Desk.UnderWay is { } move ? [.. Wrap.To(move.Told + ".", 78).Select(row => (Line)(" " + row)), Line.Blank] : [];

    private IEnumerable<Line> Written(int most) =>
    [
        string.Create(CultureInfo.InvariantCulture, $" settings saved: {Desk.Ledger.SettingsSaved.Count}   settings written or told: {Desk.Ledger.SettingsWritten.Count}"),
        .. Desk.Ledger.SettingsWritten.Reverse().Take(most).Select(write => (Line)string.Create(CultureInfo.InvariantCulture, $"   {write.At:d MMM HH:mm}   {SettingName.InWords(write.Body.Name, write.Body.Axis)}   {write.Body.Before:0.####} -> {write.Body.After:0.####}{SettingWords.UnitOf(Desk.Ledger, write.Body)}   {write.Body.Stage}")),
    ];
}
