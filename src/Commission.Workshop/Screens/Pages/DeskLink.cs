using System.Collections.Concurrent;
using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Machines;
using Commission.Core.Motion;
using Commission.Core.Quantities;
using Commission.Workshop.Controllers;
using Commission.Workshop.Ports;
using Commission.Workshop.Requests;

namespace Commission.Workshop.Screens.Pages;

/// <summary>What a desk needs for a link.</summary>
public sealed record LinkMeans
{
    /// <summary>Makes the link's desk over the journal that the desk follows; the delegate only puts what is told into a queue.</summary>
    public required Func<Action<LinkTold>, IJournal, string?, LinkDesk> Make { get; init; }

    /// <summary>Controllers that can be chosen: ports that exist with the dialects that ship, or the practice controller.</summary>
    public required Func<ImmutableArray<ControllerAddress>> Addresses { get; init; }

    /// <summary>Controllers at a port that is named, though the list does not show it; empty where there is none. Null where no port can be named, as in practice.</summary>
    public Func<string, ImmutableArray<ControllerAddress>>? Named { get; init; }

    /// <summary>Told when a ratio was written and read back: the practice machine follows. Null for real ones.</summary>
    public Action<AxisName, double>? Wrote { get; init; }
}

/// <summary>The desk's end of a link: takes what it tells on the screen's thread, and keeps what keys must know of it.</summary>
public sealed partial class DeskLink(Desk desk, LinkMeans means) : IAsyncDisposable
{
    /// <summary>How much later than the last tick it may be, ms: a box counts as drawn by then.</summary>
    public const long TickMs = 50;

    private readonly ConcurrentQueue<LinkTold> _told = new();
    private ImmutableArray<ControllerAddress> _named = [];
    private LinkDesk? _link;
    private string? _linked;
    private ImmutableArray<Core.History.SavedSetting>? _before;
    private long _nowMs;
    private TimeSpan _stopped;
    private Action<ImmutableArray<PlannedWrite>>? _planned;
    private Action<ImmutableArray<Core.History.SavedSetting>>? _written;
    private Action<ImmutableArray<Core.Problem>>? _failed;
    private Action<bool>? _arrived;

    /// <summary>What is known now; null where no link is open.</summary>
    public LinkSnapshot? Now => _link?.Now;

    /// <summary>What sessions ask of the link before a reading counts.</summary>
    public DeskWatch Watch => field ??= new(this);

    /// <summary>Whether the link is open.</summary>
    public bool IsOpen => Now is not null;

    /// <summary>Why the open link leads nowhere any more; null while it does.</summary>
    public string? Lost => Now is { } now ? LinkWords.Lost(now.Gate) : null;

    /// <summary>Whether it is being opened.</summary>
    public bool Opening { get; private set; }

    /// <summary>Why this may be another machine; null where nothing speaks against it.</summary>
    public string? Doubt { get; private set; }

    /// <summary>When the link was opened; null where none is.</summary>
    public DateTimeOffset? OpenedAt { get; private set; }

    /// <summary>Settings read last, with those known before.</summary>
    public (ImmutableArray<Core.History.SavedSetting>? Before, ImmutableArray<Core.History.SavedSetting> Now)? Settings { get; private set; }

    /// <summary>Address of the link; null where none was chosen.</summary>
    public ControllerAddress? Address { get; private set; }

    /// <summary>Controllers that can be chosen.</summary>
    public ImmutableArray<ControllerAddress> Addresses => [.. _named.Union(means.Addresses())];

    /// <summary>Whether a port can be named that the list does not show.</summary>
    public bool CanBeNamed => means.Named is not null;

    /// <summary>Puts a port into the list by its name; nothing is opened by that.</summary>
    public Core.Outcome<string> Name(string port)
    {
        if (means.Named?.Invoke(port) is not { IsDefaultOrEmpty: false } found)
            return new Core.Problem($"there is no port {Core.PlainText.Of(port)}", "Type its name as 'controller ports' lists it, or the path of the device");
        _named = found;
        return "It stands in the list. Up and Down choose, S opens it.";
    }

    /// <summary>How this machine was linked the last time, where its port is there; null else. Nothing is opened by knowing it.</summary>
    public ControllerAddress? Known => desk.MachineName is { } machine && desk.Means.KnownPorts?.Of(machine) is { } known
        && Addresses.Concat(means.Named?.Invoke(known.Port) ?? []).FirstOrDefault(address => (address.Port, address.Dialect) == (known.Port, known.Dialect)) is { } found ? found with { Baud = known.Baud, ControlLines = known.ControlLines } : null;

    /// <summary>Forgets the port of this machine.</summary>
    public void Forget() => desk.Means.KnownPorts?.Forget(desk.MachineName!);

    /// <summary>When STOP was sent, answered, and when rest was first told; null where not yet.</summary>
    public (DateTimeOffset? Sent, DateTimeOffset? Answered, DateTimeOffset? Rested) LastStop { get; private set; }

    /// <summary>The monotonic time of keys, as of the last tick, ms.</summary>
    public long NowMs => _nowMs;

    /// <summary>Begins to open: the person has read what that does.</summary>
    /// <param name="address">The controller.</param>
    /// <param name="arrived">Told whether the link is open to this machine, its settings read; null where nobody waits.</param>
    public void Open(ControllerAddress address, Action<bool>? arrived = null)
    {
        _arrived = arrived;
        // What is saved and written over a link is entered for one machine: another one has a link of its own.
        if (_link is null || _linked != desk.MachineName)
        {
            _ = _link?.DisposeAsync().AsTask();
            (_link, _linked) = (means.Make(_told.Enqueue, desk.Means.Journal, desk.MachineName), desk.MachineName);
        }

        (Address, Opening, Settings, Interrupted) = (address, true, null, null);
        _before = desk.Ledger.SettingsSaved.LastOrDefault(saved => saved.Body.Machine == desk.MachineName && saved.Body.Dialect == address.Dialect)?.Body.Settings;
        _link.Open(address, Facts());
    }

    /// <summary>Says which machine it is.</summary>
    public void TellIdentity(bool confirmed)
    {
        Doubt = null;
        _link?.TellIdentity(confirmed);
        if (confirmed)
            Remember();
    }

    /// <summary>Tells the gate what is known of the machine now.</summary>
    /// <returns>The gate after that; null where no link is open.</returns>
    public Gate? Informed()
    {
        if (Facts() is { } facts)
            _link?.Tell(facts);
        return Now?.Gate;
    }

    /// <summary>STOP; returns at once. Whether there was a link to send it over.</summary>
    public bool Stop(string pressed)
    {
        if (Lost is not null || _link?.Stop("STOP was pressed: " + pressed) != true)
            return false;
        Record(stopSent: true);
        return true;
    }

    /// <summary>Keeps when STOP went out over the link, or that none did: what was noted of an earlier one is not about this.</summary>
    public void Record(bool stopSent) => (LastStop, _stopped) = (stopSent ? (desk.Now, null, null) : default, Now?.Gate.Now ?? default);

    /// <summary>STOP from any thread, past the screen; returns at once. Whether there was a link to send it over.</summary>
    public bool StopNow(string why) => _link?.Stop(why) == true;

    /// <summary>STOP from any thread if a move is under way, before the program ends or is suspended; waits until its bytes are out.</summary>
    public bool StopBeforeEnd(string why) => _link?.StopBeforeEnd(why) == true;

    /// <summary>The operator has read what happened, up to a count of losses; null for all of it.</summary>
    public void Understood(char key, int? losses = null) => _link?.Understood(key, losses);

    /// <summary>Trust in the position is lost: a crash was told.</summary>
    public void LoseTrust(string why) => _link?.LoseTrust(why);

    /// <summary>Reads all settings anew and keeps them.</summary>
    public void ReadSettings() => _link?.SaveSettings();

    /// <summary>Asks what a new ratio would change.</summary>
    public void Plan(AxisName axis, double stepsPerMm, Action<ImmutableArray<PlannedWrite>> planned)
    {
        _planned = planned;
        _link?.PlanSteps(axis, stepsPerMm);
    }

    /// <summary>Asks what setting back to earlier settings would change.</summary>
    /// <param name="earlier">The settings wanted; those not named stay.</param>
    /// <param name="planned">Told the writes; empty where nothing differs.</param>
    public void PlanRestore(ImmutableArray<Core.History.SavedSetting> earlier, Action<ImmutableArray<PlannedWrite>> planned)
    {
        _planned = planned;
        if (_link is not { Link: { } open } link)
        {
            desk.Say("No link is open: nothing is read and nothing is written.");
            return;
        }

        desk.Say("The settings are read.");
        link.PlanRestore(new SettingsSnapshot(open.Dialect.Name, earlier));
    }

    /// <summary>What a write puts on the wire, line by line.</summary>
    public ImmutableArray<string> WireText(IEnumerable<PlannedWrite> writes) => _link?.Link?.Dialect.Settings is not { } settings ? []
        : [.. writes.SelectMany(write => (string?[])[settings.Write.Replace("{key}", write.Setting.Key, StringComparison.Ordinal).Replace("{value}", write.Text, StringComparison.Ordinal), settings.Store]).OfType<string>()];

    /// <summary>The dialect of the open link; null where none is open.</summary>
    public Core.Machines.Dialects.Dialect? Dialect => _link?.Link?.Dialect;

    /// <summary>A write that was begun and never read back, and what is certain about it; null where there is none.</summary>
    public string? Interrupted { get; private set; }

    /// <summary>Writes what was confirmed, and reads it back.</summary>
    /// <param name="writes">The writes.</param>
    /// <param name="written">Told what was read back, where it agrees.</param>
    /// <param name="failed">Told why it did not come to that.</param>
    public void Write(ImmutableArray<PlannedWrite> writes, Action<ImmutableArray<Core.History.SavedSetting>> written, Action<ImmutableArray<Core.Problem>> failed)
    {
        _failed = failed;
        _written = read =>
        {
            foreach (var write in writes.Where(write => write.Setting is { Name: "stepsPerMm", Axis: not null }))
                means.Wrote?.Invoke(write.Setting.Axis!.Value, write.Value);
            written(read);
        };
        if (_link is { } link)
            link.Write(writes);
        else
            Refused([new Core.Problem("no link is open", "Open it on the controller's page: C, then S")]);
    }

    /// <summary>Closes the link; what moves is stopped first.</summary>
    public void Close() => _link?.Close();

    /// <summary>Another machine is used from now on: a link that is not its own is closed, for it would move the one with the limits of the other.</summary>
    public void KeepTo(string? machine)
    {
        if (IsOpen && _linked != machine)
            Close();
    }

    /// <summary>Takes what was told meanwhile. Returns whether anything but a new state was.</summary>
    public bool Tick(long nowMs)
    {
        _nowMs = nowMs;
        return Drain();
    }

    private bool Drain()
    {
        var any = false;
        while (_told.TryDequeue(out var told))
        {
            // States arrive many times a second; whether one of them shows is the desk's to see.
            any |= told is not LinkTold.Changed;
            On(told);
        }

        return any;
    }

    private void On(LinkTold told)
    {
        switch (told)
        {
            case LinkTold.Changed:
                _link?.Taken();
                AfterStop();
                break;
            // While it was being opened another machine was turned to.
            case LinkTold.Opened when _linked != desk.MachineName:
                Opening = false;
                Close();
                break;
            case LinkTold.Opened opened:
                (Opening, OpenedAt) = (false, desk.Now);
                desk.Say(opened.Remark ?? "The link is open. The settings are read and compared.");
                _link?.SaveSettings();
                break;
            case LinkTold.Refused refused:
                Opening = false;
                Refused(refused.Problems);
                break;
            // Told late, when the next one is being opened already: what is said of that one stays.
            case LinkTold.Closed when Opening || IsOpen:
                break;
            case LinkTold.Closed:
                (OpenedAt, Settings, Address) = (null, null, null);
                desk.Say("The link is closed.");
                break;
            case LinkTold.Box box:
                Drawn(box.Confirmation);
                break;
            case LinkTold.Ended ended:
                if (ended.How is MotionEnd.NotBegun)
                    NotBegun();
                // What moved was stopped by the gate itself; an unlocking moves nothing, and over a lost link nothing is sent.
                desk.MotionEnded(ended.How, stopSent: ended.Act is MotionAct.Go or MotionAct.Home && Lost is null);
                _ended?.Invoke(ended.How);
                if (ended.How is MotionEnd.Reached)
                    Over();
                break;
            case LinkTold.Settings settings:
                Compare(settings.Snapshot);
                break;
            case LinkTold.Planned planned:
                desk.Refresh();
                _planned?.Invoke(planned.Writes);
                break;
            case LinkTold.Written written:
                desk.Refresh();
                var whom = _written;
                (_written, _failed) = (null, null);
                whom?.Invoke(written.ReadBack);
                // The list holds what was read back.
                _link?.SaveSettings();
                break;
        }
    }

    private void Refused(ImmutableArray<Core.Problem> problems)
    {
        if (_failed is { } failed)
        {
            (_written, _failed) = (null, null);
            desk.Refresh();
            failed(problems);
        }
        else
        {
            desk.Say(problems);
            Arrive(false);
        }
    }

    // Two machines can share one cable: where more than one axis differs the person says which it is.
    private void Compare(SettingsSnapshot snapshot)
    {
        desk.Refresh();
        Settings = (_before, snapshot.Settings);
        var dialect = _link?.Link?.Dialect;
        Doubt = _before is { } known && dialect is not null ? SettingDifferences.AnotherMachine(dialect, known, snapshot.Settings) : null;
        if (Doubt is null)
            TellIdentity(true);
        else
            desk.Say("Which machine is this? C asks; nothing moves before it is answered.");
        _before = snapshot.Settings;
        LookForInterrupted();
        // The controller's page tells it by itself, and whole.
        if (Interrupted is { } interrupted && Doubt is null && !desk.Shows<ControllerPage>())
            desk.Say(Words.Capital(interrupted) + ".");
        Arrive(Doubt is null);
    }

    // The port is remembered once it is known that this machine is behind it.
    private void Remember()
    {
        if (Address is { } address && desk.MachineName is { } machine)
            desk.Means.KnownPorts?.Keep(machine, new KnownPort(address.Port, address.Dialect, address.Baud) { ControlLines = address.ControlLines });
    }

    private void Arrive(bool open)
    {
        var whom = _arrived;
        _arrived = null;
        whom?.Invoke(open);
    }

    /// <summary>Looks for a write that was begun and never read back: when settings were read, and when one of them was decided.</summary>
    public void LookForInterrupted() =>
        Interrupted = Settings is { } read ? ControllerSettings.Interrupted(desk.Ledger.SettingsWritten.Select(write => write.Body), desk.MachineName, read.Now) : null;

    private void AfterStop()
    {
        // What was told before the STOP went out says nothing of what it did.
        if (LastStop is not { Sent: not null } stop || Now is not { } now || now.Gate.ReportAt <= _stopped)
            return;
        if (stop.Answered is null)
            LastStop = stop = stop with { Answered = desk.Now };
        if (stop.Rested is null && now.State != Core.Machines.Dialects.ControllerState.Moving)
            LastStop = stop with { Rested = desk.Now };
    }

    private MotionFacts? Facts()
    {
        if (desk.Machine is not { } machine || _linked != desk.MachineName)
            return null;
        var facts = GateFacts.Of(machine, desk.Ledger);
        return _link?.Link is { } open && Settings is { } settings ? facts.With(open.Dialect, settings.Now) : facts;
    }

    /// <summary>An instant with hundredths, as the page of a stop shows it.</summary>
    public static string Clock(DateTimeOffset? at) => at?.ToString("HH:mm:ss.ff", CultureInfo.InvariantCulture) ?? "not yet";
}
