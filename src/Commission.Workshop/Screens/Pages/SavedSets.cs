using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.History;
using Commission.Core.Machines.Dialects;
using Commission.Workshop.Requests;

namespace Commission.Workshop.Screens.Pages;

/// <summary>Sets of settings that were saved of a machine, as they are listed: one that holds the same as the next is that one, so that each is called by the time at which it was saved last.</summary>
public static class SavedSets
{
    /// <summary>The sets that the open link can put back, newest first.</summary>
    public static ImmutableArray<Entered<EntryBody.SettingsSaved>> Of(Desk desk)
    {
        var dialect = desk.Link?.Dialect?.Name;
        var sets = desk.Ledger.SettingsSaved.Where(saved => saved.Body.Machine == desk.MachineName && saved.Body.Dialect == dialect).ToList();
        return [.. sets.Where((set, i) => i == sets.Count - 1 || !Same(set.Body.Settings, sets[i + 1].Body.Settings)).Reverse()];
    }

    /// <summary>The set that puts back what writes would change: it holds all the old values. Null where none does.</summary>
    public static Entered<EntryBody.SettingsSaved>? WayBack(Desk desk, ImmutableArray<PlannedWrite> writes) =>
        Of(desk).FirstOrDefault(set => writes.All(write => set.Body.Settings.Any(one => one.Key == write.Setting.Key && IsSame(one, write.Before))));

    /// <summary>When a set was saved, as list and box name it: two of one minute are told apart.</summary>
    public static string When(DateTimeOffset at, DateTimeOffset now) => at.ToString(at.Date == now.Date ? "HH:mm:ss" : "d MMM HH:mm", CultureInfo.InvariantCulture);

    /// <summary>What of a set differs from what is in the controller, in words.</summary>
    public static ImmutableArray<string> Differing(ImmutableArray<SavedSetting> set, ImmutableArray<SavedSetting> inIt) =>
        [.. set.Where(one => inIt.FirstOrDefault(now => now.Key == one.Key) is { } now && !IsSame(one, now)).Select(one => one.Name is { } name ? SettingName.OfSaved(name) : "one without a name")];

    private static bool Same(ImmutableArray<SavedSetting> one, ImmutableArray<SavedSetting> other) =>
        one.Length == other.Length && one.Zip(other).All(pair => pair.First.Key == pair.Second.Key && pair.First.Text == pair.Second.Text);

    private static bool IsSame(SavedSetting one, SavedSetting other) => one.Value is { } a && other.Value is { } b ? a.Equals(b) : one.Text == other.Text;
}
