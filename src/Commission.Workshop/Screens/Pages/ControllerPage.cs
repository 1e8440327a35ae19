using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens.Keys;

namespace Commission.Workshop.Screens.Pages;

/// <summary>The controller: the link, its settings against what is known, who wrote what.</summary>
public sealed class ControllerPage(Desk desk) : Page(desk)
{
    private int _chosen;

    /// <inheritdoc/>
    public override string Called => "controller";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
    [
        "Everything works without a link: you command the moves, this program writes down.",
        "No port is opened because it exists. S opens the chosen one after you have read what that does to the machine.",
        "With the link the settings are read, kept and compared with those known before. What was not written by this program is marked.",
    ];

    private DeskLink? Link => Desk.Link;

    private ImmutableArray<ControllerAddress> Addresses => Link?.Addresses ?? [];

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => Link is { IsOpen: true } link ? Linked(link) : Link is null ? NoLink() : Opening();

    /// <inheritdoc/>
    public override void Choose(int by, bool sideways) => _chosen = Math.Clamp(_chosen + by, 0, Math.Max(0, Addresses.Length - 1));

    /// <inheritdoc/>
    public override void FollowNext()
    {
        if (Link is { IsOpen: true } link)
        {
            if (link.Doubt is not null)
                Desk.Say("S means: it is this machine. O: it is another one; nothing moves.");
            else if (NeedsHome(link))
                Home(link);
            else
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
            case "open" when Link is { Opening: false } link && !Addresses.IsEmpty:
                link.Open(Addresses[_chosen]);
                Desk.Say("The port is being opened. Nothing else waits for it.");
                break;
            case "this-machine":
                Link!.TellIdentity(true);
                Desk.Say($"It is {Desk.MachineName}: the log keeps that you said so.");
                Desk.Write(new EntryBody.Confirmed("identity", $"the controller is that of {Desk.MachineName}") { Machine = Desk.MachineName, Operator = Desk.Means.Operator });
                break;
            case "other-machine":
                Link!.TellIdentity(false);
                Link.Close();
                break;
            case "read-again":
                Link!.ReadSettings();
                break;
            case "close":
                Link!.Close();
                break;
            case "home" when Link is { } link:
                Home(link);
                break;
            default:
                FollowNext();
                break;
        }
    }

    private static bool NeedsHome(DeskLink link) => link.Now?.Gate.State is TrustState.Unreferenced or TrustState.Locked;

    private void Home(DeskLink link) => link.Ask(
        new MotionAct.Home(), box => new MotionPage(Desk, box, $"{Desk.MachineName} / controller", "homing", "Because: positions are not trusted before the machine has homed."), _ => { });

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

    private Sheet Opening()
    {
        var addresses = Addresses;
        return new Sheet
        {
            Path = $"{Desk.MachineName} / controller", Right = Link!.Opening ? "opening" : "no link", Live = Desk.Live,
            Body =
            [
                addresses.IsEmpty ? " No port was found. Plug the cable in; C looks again." : " Which one? Up and Down choose.",
                .. addresses.Select((address, i) => (Line)($"{(i == _chosen ? ">>" : "  ")}   {address.Port,-40} {address.Dialect}")),
                Line.Blank,
                .. HazardBlock.Lines(
                [
                    new("Opening a port can restart the controller; outputs may switch, drives may let go.", "Spindle unplugged? No job running? Z supported by a block of wood?"),
                    new("A job that runs there would be cut off in the middle.", "End it first, at the machine."),
                ]),
                Line.Blank, .. Written(5),
            ],
            Next = addresses.IsEmpty ? "Esc goes back to the bench." : "Read this and do what it asks. S opens the chosen one.", Because = "S means: done, by me, now. Enter opens nothing. Everything works without a link.",
            Keys =
            [
                new("S", "open", "open", addresses.IsEmpty ? "no port was found" : Link.Opening ? "it is being opened" : null), new("Up, Down", "choose", "choose"),
                new("Esc", "bench", "away"), new("F1", "help", "help"), new("F2", "card", "card"),
            ],
        };
    }

    private Sheet Linked(DeskLink link)
    {
        var rows = link.Settings is { } settings ? Rows(settings.Before, settings.Now).ToList() : [];
        var differing = rows.Count(row => row.Differs);
        var (next, because) = Step(link, differing);
        return new Sheet
        {
            Path = $"{Desk.MachineName} / controller",
            Right = $"{Desk.Today} . linked {link.OpenedAt?.ToString("HH:mm", CultureInfo.InvariantCulture)}", Live = Desk.Live,
            Body =
            [
                new Line(" setting              in it now         known      difference   written by", [new(0, 80, Ink.Quiet)]),
                .. rows.Take(12).Select(row => row.Line),
                string.Create(CultureInfo.InvariantCulture, $" {link.Settings?.Now.Length ?? 0} settings read, {differing} differ{(differing == 1 ? "s" : "")} from what was known.   saved {Desk.Ledger.SettingsSaved.Count} times"),
                .. link.Doubt is { } doubt ? Wrap.To("Which machine is this? " + doubt + ".", 76).Select(text => (Line)(" " + text)) : [],
            ],
            Next = next, Because = because,
            Keys =
            [
                .. link.Doubt is null ? (ReadOnlySpan<SheetKey>)[new("Enter", NeedsHome(link) ? "home" : "bench", "next")] : [new("S", "this machine", "this-machine"), new("O", "another one", "other-machine")],
                new("R", "read again", "read-again"), new("Q", "close the link", "close"), new("N", "note", "note"), new("F1", "help", "help"), new("F2", "card", "card"),
            ],
        };
    }

    private static (string, string) Step(DeskLink link, int differing) => link switch
    {
        { Doubt: not null } => ("S: it is this machine. O: it is another one.", "Because: two machines may share this cable; nothing moves before it is settled."),
        _ when differing > 0 => (differing == 1 ? "One setting differs. Note who changed it, or put it back." : $"{differing} settings differ. Note who changed them, or put them back.", "Because: results taken with other settings must not be mixed unseen."),
        _ when link.Now?.Gate.Facts.MissingChecks is { IsEmpty: false } missing => ($"Nothing moves yet: {string.Join(", ", missing)} must stand as passed.", "Because: the emergency stop comes before the first move. W has the readiness list."),
        _ when NeedsHome(link) => ("Home. Enter draws its box; H in the box homes.", "Because: positions are not trusted before the machine has homed."),
        _ => ("Enter goes back to the bench.", "The settings are those that were known."),
    };

    private sealed record Row(Line Line, bool Differs);

    private IEnumerable<Row> Rows(ImmutableArray<SavedSetting>? before, ImmutableArray<SavedSetting> now)
    {
        var dialect = ShippedDialects.Find(Link!.Address!.Dialect);
        var named = now.Select(setting => (Setting: setting, Known: dialect?.Settings.Find(setting.Key))).Where(pair => pair.Known is { Axis: not null }).ToList();
        var last = "";
        foreach (var (setting, known) in named)
        {
            var old = before?.FirstOrDefault(one => one.Key == setting.Key);
            var differs = old is not null && (setting.Value is { } a && old.Value is { } b ? a != b : setting.Text != old.Text);
            var by = Desk.Ledger.SettingsWritten.LastOrDefault(write => write.Body.Key == setting.Key && write.Body.Machine == Desk.MachineName);
            var who = differs && (by is null || by.Body.ReadBack != setting.Value) ? "NOT BY US" : by is not null ? "us, " + by.At.ToString("d MMM", CultureInfo.InvariantCulture) : "";
            var difference = differs && setting.Value is { } x && old!.Value is { } y ? (x - y).ToString("+0.###;-0.###", CultureInfo.InvariantCulture) : differs ? "differs" : "";
            var name = Name(known!.Name);
            var text = $"{(differs ? ">>" : "  ")}{(name == last ? "" : name),-13}{known.Axis}{setting.Text,14}{old?.Text ?? "",14}{difference,14}     {who}";
            last = name;
            yield return new(((Line)(text.Length <= 80 ? text : text[..80])).With("NOT BY US", Ink.Ochre), differs);
        }
    }

    private static string Name(string name) => name switch
    {
        "stepsPerMm" => "steps per mm",
        "maxRate" => "fastest feed",
        "acceleration" => "acceleration",
        "travel" => "travel",
        _ => name,
    };

    private IEnumerable<Line> Written(int most) =>
    [
        string.Create(CultureInfo.InvariantCulture, $" settings saved: {Desk.Ledger.SettingsSaved.Count}   settings written or told: {Desk.Ledger.SettingsWritten.Count}"),
        .. Desk.Ledger.SettingsWritten.Reverse().Take(most).Select(write => (Line)string.Create(CultureInfo.InvariantCulture, $"   {write.At:d MMM HH:mm}   {write.Body.Name} {write.Body.Axis}   {write.Body.Before} -> {write.Body.After}   {write.Body.Stage}")),
    ];
}
