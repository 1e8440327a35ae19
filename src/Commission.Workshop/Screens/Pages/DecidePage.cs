using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.History;
using Commission.Core.Machines.Dialects;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>A setting as it is in the controller, beside what is known of it.</summary>
/// <param name="Now">In the controller.</param>
/// <param name="Known">As known; null where it was never seen.</param>
/// <param name="Setting">What the dialect says of it; null where it does not know it.</param>
public sealed record ComparedSetting(SavedSetting Now, SavedSetting? Known, DialectSetting? Setting)
{
    /// <summary>Whether it differs: by number where both are numbers.</summary>
    public bool Differs => Known is not null && (Now.Value is { } a && Known.Value is { } b ? a != b : Now.Text != Known.Text);

    /// <summary>Name in words, without the axis.</summary>
    public string Name => SettingName.InWords(Setting?.Name ?? Now.Name ?? Now.Key);

    /// <summary>Name in words with the axis.</summary>
    public string Words => Name + (Setting?.Axis is { } axis ? " " + axis : "");

    /// <summary>The unit after a blank; empty where it has none.</summary>
    public string Unit => Setting?.Unit is { Length: > 0 } unit ? " " + unit : "";

    /// <summary>What becomes stale where the new value is kept; null where nothing rests on the setting.</summary>
    public string? Stale => Core.Upkeep.StaleTable.ChangeOf(Setting?.Name ?? "") is { } change && Core.Upkeep.StaleTable.Find(change) is { Items: { Length: > 0 } items }
        ? string.Join(", ", items.Select(item => OverviewPage.Named(item, Setting!.Axis))) : null;

    /// <summary>What is in the controller.</summary>
    public string InIt => SettingWords.Value(Setting?.Name ?? "", Now.Text, Now.Value);

    /// <summary>What is known.</summary>
    public string KnownText => Known is null ? "" : SettingWords.Value(Setting?.Name ?? "", Known.Text, Known.Value);

    /// <summary>The difference with its sign; empty where none.</summary>
    public string Difference => !Differs ? "" : Now.Value is { } x && Known!.Value is { } y ? (x - y).ToString("+0.###;-0.###", CultureInfo.InvariantCulture) : "differs";
}

/// <summary>Decides about a setting that differs: put back, keep, or do not know.</summary>
public sealed class DecidePage(Desk desk, ComparedSetting one) : ListPage(desk)
{
    /// <inheritdoc/>
    public override string Called => "a difference";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
    [
        "Put back: the box with both numbers comes next, nothing is written before its letter. Keep: the log holds the new value as told, and results that rest on the old one, where there are any, become stale.",
        "I do not know: treated like keep, and the log says that nobody knows who changed it.",
    ];

    /// <inheritdoc/>
    protected override int Count => 3;

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => ListSheet.Of(
        new ListView
        {
            Path = $"{Desk.MachineName} / controller / {one.Words}", Right = Desk.Today, Live = Desk.Live, Head = $"   {one.Words}: {With(one.KnownText)} known, {With(one.InIt)} in the controller", Chosen = Chosen,
            Lines = [$"put back       {With(one.KnownText)}, through the box, with its letter", $"keep           {With(one.InIt)}, told to the log", "I do not know  who changed it: kept, and the log says so"],
            Step = (Chosen switch { 0 => "Enter shows the box; nothing is written by that.", 1 => one.Stale is null ? "Enter keeps it; no result rests on it." : "Enter keeps it: what rests on the old value is stale.", _ => "Enter keeps it and notes that nobody knows." }, "Because: results taken with other settings must not be mixed unseen."),
            Keys = [new("Enter", Chosen == 0 ? "show the box" : "into the log", "next"), new("Up, Down", "choose", "choose"), new("Esc", "decide later", "away"), new("F1", "help", "help"), new("F2", "card", "card")],
        },
        height);

    /// <inheritdoc/>
    public override void FollowNext()
    {
        Desk.Uncover();
        if (Chosen == 0)
        {
            Desk.Link!.PlanRestore([one.Known!], writes => WriteRound.Begin(Desk, writes, $"{Desk.MachineName} / controller / put back"));
        }
        else if (one is { Now.Value: { } now, Setting: { } setting })
        {
            Keep(now, setting);
        }
        else
        {
            Desk.Say(one.Setting is null ? "What this one means is not known here: put it back, or note it with N." : "This one is no number: put it back, or note it with N.");
        }
    }

    private void Keep(double now, DialectSetting setting)
    {
        var told = new EntryBody.SettingWritten
        {
            Machine = Desk.MachineName, Operator = Desk.Operator, Key = setting.Key, Name = setting.Name, Axis = setting.Axis?.ToString(), Before = one.Known!.Value, After = now, ReadBack = now, Stage = EntryBody.SettingWritten.Told,
        };
        var who = Chosen == 1 ? "kept" : "kept, nobody knows who changed it";
        if (Desk.Write(told) && Desk.Write(new EntryBody.Noted(Desk.Ledger.LastSequence, $"{one.Words} found as {With(one.InIt)} in place of {With(one.KnownText)}: {who}") { Machine = Desk.MachineName, Operator = Desk.Operator }))
        {
            Desk.Link?.LookForInterrupted();
            Desk.Say($"{one.Words}: {With(one.InIt)} counts from now on.{(one.Stale is { } stale ? $" Stale now: {stale}." : "")}");
        }
    }

    private string With(string value) => value + one.Unit;
}

/// <summary>Sets of settings that were saved before: any of them can be put back, in the same boxes.</summary>
public sealed class OlderSetsPage(Desk desk) : ListPage(desk)
{
    /// <inheritdoc/>
    public override string Called => "older sets";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => ["Only what differs is written. What decides directions, enabling, switches or homing has a box of its own, after the plain numbers."];

    private ImmutableArray<Entered<EntryBody.SettingsSaved>> Sets => SavedSets.Of(Desk);

    private ImmutableArray<SavedSetting> InIt => Desk.Link?.Settings?.Now ?? [];

    /// <inheritdoc/>
    protected override int Count => Sets.Length;

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => ListSheet.Of(
        new ListView
        {
            Path = $"{Desk.MachineName} / controller / older sets", Right = string.Create(CultureInfo.InvariantCulture, $"{Count} different set{(Count == 1 ? "" : "s")}"), Live = Desk.Live,
            Head = "   saved               settings   differ from what is in it now", Chosen = Chosen,
            Lines = [.. Sets.Select(set => string.Create(CultureInfo.InvariantCulture, $"{set.At,-20:d MMM yyyy HH:mm:ss}{set.Body.Settings.Length,8}   {Differing(set)}"))],
            Step = Count == 0 ? ("No set was saved yet. Esc goes back.", "A set is saved at each connection and before each write.") : ("Enter shows the box of what differs; nothing is written by that.", "Because: each box has its own letter."),
            Keys = [new("Enter", "put it back", "next"), new("Up, Down", "choose", "choose"), new("Esc", "controller", "away"), new("F1", "help", "help"), new("F2", "card", "card")],
        },
        height);

    /// <inheritdoc/>
    public override void FollowNext()
    {
        if (Count == 0)
            return;
        var set = Sets[Chosen];
        Desk.Uncover();
        Desk.Link!.PlanRestore(set.Body.Settings, writes => WriteRound.Begin(Desk, writes, string.Create(CultureInfo.InvariantCulture, $"{Desk.MachineName} / controller / set of {SavedSets.When(set.At, Desk.Now)}")));
    }

    private string Differing(Entered<EntryBody.SettingsSaved> set)
    {
        var differ = SavedSets.Differing(set.Body.Settings, InIt);
        return differ.IsEmpty ? "nothing" : string.Create(CultureInfo.InvariantCulture, $"{differ.Length}: {string.Join("; ", differ.Take(3))}{(differ.Length > 3 ? "; ..." : "")}");
    }
}
