using System.Collections.Immutable;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;
using Commission.Core.Reports;

namespace Commission.Workshop.Controllers;

/// <summary>A setting that differs.</summary>
/// <param name="Key">Key on the wire.</param>
/// <param name="Name">Name; null where the dialect does not know it.</param>
/// <param name="Old">Text in the snapshot; null where it had none.</param>
/// <param name="New">Text now; null where there is none.</param>
public sealed record SettingDifference(string Key, string? Name, string? Old, string? New);

/// <summary>Compares settings by number where both are numbers, else by text.</summary>
public static class SettingDifferences
{
    /// <summary>What differs from the snapshot to now.</summary>
    public static ImmutableArray<SettingDifference> Between(ImmutableArray<SavedSetting> old, ImmutableArray<SavedSetting> now)
    {
        var found = ImmutableArray.CreateBuilder<SettingDifference>();
        foreach (var key in old.Concat(now).Select(one => one.Key).Distinct())
        {
            var (before, after) = (old.FirstOrDefault(one => one.Key == key), now.FirstOrDefault(one => one.Key == key));
            if (before is not null && after is not null && Same(before, after))
                continue;
            found.Add(new(key, (after ?? before)!.Name, before?.Text, after?.Text));
        }
        return found.ToImmutable();
    }

    /// <summary>Writes differences as <c>commission.differences/1</c>, texts as received.</summary>
    public static void Write(System.Text.Json.Utf8JsonWriter writer, ImmutableArray<SettingDifference> differences)
    {
        writer.Document("commission.differences/1", () =>
        {
            writer.Objects("differences", differences, one =>
            {
                writer.WriteString("key", one.Key);
                writer.WriteString("name", one.Name);
                writer.WriteString("old", one.Old);
                writer.WriteString("new", one.New);
            });
        });
    }

    /// <summary>Why this may be another machine than the one of the snapshot; null where travel, steps and directions differ on one axis at most.</summary>
    public static string? AnotherMachine(Dialect dialect, ImmutableArray<SavedSetting> snapshot, ImmutableArray<SavedSetting> now)
    {
        var axes = new HashSet<AxisName>();
        foreach (var difference in Between(snapshot, now))
        {
            if (dialect.Settings.Find(difference.Key) is not { } known)
                continue;
            if (known is { Name: "stepsPerMm" or "travel", Axis: { } axis })
                axes.Add(axis);
            if (known.Weight == SettingWeight.Direction)
                axes.UnionWith(Bits(difference.Old, difference.New));
        }
        return axes.Count > 1
            ? $"travel, steps or directions of {string.Join(" and ", axes.Order())} differ from what was saved of this machine; two machines may share this cable"
            : null;
    }

    // A mask holds one bit an axis; where it is none, every axis counts.
    private static IEnumerable<AxisName> Bits(string? old, string? now)
    {
        var numbers = int.TryParse(old, System.Globalization.NumberStyles.None, System.Globalization.CultureInfo.InvariantCulture, out var a)
            & int.TryParse(now, System.Globalization.NumberStyles.None, System.Globalization.CultureInfo.InvariantCulture, out var b);
        return Enum.GetValues<AxisName>().Where(axis => !numbers || (((a ^ b) >> (int)axis) & 1) == 1);
    }

    private static bool Same(SavedSetting a, SavedSetting b) => a.Value is { } x && b.Value is { } y ? x == y : a.Text == b.Text;
}
