using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Quantities;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;
using Commission.Workshop.Controllers;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Requests;

/// <summary>A setting that is to be written, before anybody has said yes.</summary>
/// <param name="Setting">The setting.</param>
/// <param name="Before">As the controller shows it now.</param>
/// <param name="Text">What would be sent, in the controller's decimals.</param>
/// <param name="Value">What was asked for, in the setting's unit.</param>
public sealed record PlannedWrite(DialectSetting Setting, SavedSetting Before, string Text, double Value)
{
    /// <summary>What the controller's decimals take away or add, in the setting's unit.</summary>
    public double RoundingError => double.Parse(Text, CultureInfo.InvariantCulture) - Value;

    /// <summary>The difference in words; steps in both units.</summary>
    public string Line
    {
        get
        {
            var inches = Setting.Unit == "steps/mm" && Before.Value is { } old
                ? string.Create(CultureInfo.InvariantCulture, $"; {old * Inch.Mm:0.####} -> {Value * Inch.Mm:0.####} steps/in") : "";
            var rounding = Math.Abs(RoundingError) > 1e-9
                ? string.Create(CultureInfo.InvariantCulture, $"; the controller's decimals change it by {RoundingError:+0.######;-0.######}") : "";
            return $"{Setting.InWords}: {Before.Text} -> {Text} {Setting.Unit}{inches}{rounding}";
        }
    }
}

/// <summary>Saves, compares, writes and restores the settings of a controller.</summary>
/// <param name="link">The link.</param>
/// <param name="journal">The store; null where no machine is known.</param>
/// <param name="machine">The machine's name; null where none is known.</param>
public sealed class ControllerSettings(IControllerLink link, IJournal? journal = null, string? machine = null)
{
    private bool saved;

    /// <summary>All settings as they are now; kept in the store where there is one.</summary>
    public async Task<Outcome<SettingsSnapshot>> SaveAsync(CancellationToken cancellation) =>
        (await link.SettingsAsync(cancellation).ConfigureAwait(false)).Then(settings =>
            Keep(new EntryBody.SettingsSaved(link.Dialect.Name, settings) { Machine = machine }).Then<SettingsSnapshot>(_ =>
            {
                saved = true;
                return new SettingsSnapshot(link.Dialect.Name, settings);
            }));

    /// <summary>What differs from a snapshot.</summary>
    public async Task<Outcome<ImmutableArray<SettingDifference>>> CompareAsync(SettingsSnapshot snapshot, CancellationToken cancellation) =>
        snapshot.Dialect != link.Dialect.Name
            ? new Problem($"the file was saved with the dialect {PlainText.Of(snapshot.Dialect)}", $"Compare it over a link that speaks {PlainText.Of(snapshot.Dialect)}")
            : (await link.SettingsAsync(cancellation).ConfigureAwait(false)).Then<ImmutableArray<SettingDifference>>(now =>
                SettingDifferences.Between(snapshot.Settings, now));

    /// <summary>What a new ratio of an axis would change. Pairs come together. Nothing is written.</summary>
    /// <param name="axis">The axis.</param>
    /// <param name="stepsPerMm">The ratio, steps for one millimetre.</param>
    /// <param name="cancellation">Ends it.</param>
    public async Task<Outcome<ImmutableArray<PlannedWrite>>> PlanStepsAsync(AxisName axis, double stepsPerMm, CancellationToken cancellation)
    {
        if (!(stepsPerMm is > 0 and < 1e6))
            return new Problem("a ratio is a positive number of steps for one millimetre", "Check the number and its unit");
        var known = link.Dialect.Settings.Known.Where(one => one.Name == "stepsPerMm" && one.Axis == axis).ToImmutableArray();
        if (known.IsEmpty)
            return new Problem($"this dialect does not name the ratio of {axis}", "Change it by hand and tell the program");
        return (await SaveAsync(cancellation).ConfigureAwait(false)).Then<ImmutableArray<PlannedWrite>>(now =>
            known.Any(setting => now.Settings.All(one => one.Key != setting.Key))
                ? new Problem($"the controller does not list the ratio of {axis}", "Check the dialect")
                : known.Select(setting => Plan(setting, now.Settings.First(one => one.Key == setting.Key), stepsPerMm)).ToImmutableArray());
    }

    /// <summary>Writes what was planned and confirmed, and reads it back. All or nothing: when one of a pair fails, the other is set back.</summary>
    public async Task<Outcome<ImmutableArray<SavedSetting>>> WriteAsync(ImmutableArray<PlannedWrite> planned, CancellationToken cancellation)
    {
        if (!saved && await SaveAsync(cancellation).ConfigureAwait(false) is Outcome<SettingsSnapshot>.Bad unsaved)
            return new Outcome<ImmutableArray<SavedSetting>>.Bad(unsaved.Problems);
        var written = ImmutableArray.CreateBuilder<SavedSetting>();
        foreach (var write in planned)
        {
            switch (await WriteOneAsync(write, cancellation).ConfigureAwait(false))
            {
                case Outcome<SavedSetting>.Good good:
                    written.Add(good.Value);
                    break;
                case Outcome<SavedSetting>.Bad bad:
                    // The one that failed may have been written all the same: it is set back with the others.
                    return new Outcome<ImmutableArray<SavedSetting>>.Bad(
                    [
                        .. written.Zip(planned, (read, one) => new Problem($"{one.Setting.To(one.Text)}: written and read back as {read.Text}", "It is set back, because what belongs together is written together")),
                        .. bad.Problems,
                        .. planned.Skip(written.Count + 1).Select(one => new Problem($"{one.Setting.To(one.Text)}: not sent, nothing is written", "Try again when the one before it is written")),
                        .. await SetBackAsync(planned.Take(written.Count + 1), cancellation).ConfigureAwait(false),
                    ]);
            }
        }
        return written.ToImmutable();
    }

    private async Task<ImmutableArray<Problem>> SetBackAsync(IEnumerable<PlannedWrite> begun, CancellationToken cancellation)
    {
        var problems = ImmutableArray.CreateBuilder<Problem>();
        foreach (var write in begun)
        {
            var undo = write with { Text = write.Before.Text, Before = write.Before with { Value = write.Value } };
            problems.AddRange((await WriteOneAsync(undo, cancellation).ConfigureAwait(false)).Match(
                read => [new Problem($"way back: {write.Setting.To(read.Text)}: written and read back", "Read what went wrong, then try again")],
                failed => failed.Select(problem => problem with { What = "way back: " + problem.What, Remedy = "Save all settings, compare, and restore before anything moves" }).ToImmutableArray()));
        }
        return problems.ToImmutable();
    }

    /// <summary>What a snapshot would set back, in groups: what is plain first, then each kind that needs a yes of its own.</summary>
    public async Task<Outcome<ImmutableArray<IGrouping<SettingWeight, PlannedWrite>>>> PlanRestoreAsync(SettingsSnapshot snapshot, CancellationToken cancellation) =>
        (await CompareAsync(snapshot, cancellation).ConfigureAwait(false)).Then<ImmutableArray<IGrouping<SettingWeight, PlannedWrite>>>(differences =>
            differences.Where(one => one is { Old: not null, New: not null } && WireNumber.Read(one.Old) is not null)
                .Select(one => Restored(one)).GroupBy(write => write.Setting.Weight).OrderBy(group => group.Key).ToImmutableArray());

    /// <summary>A write that was begun and never read back, and what is certain about it now; null where there is none.</summary>
    public static string? Interrupted(IEnumerable<EntryBody.SettingWritten> writes, string? machine, ImmutableArray<SavedSetting> now)
    {
        EntryBody.SettingWritten? open = null;
        foreach (var write in writes.Where(write => write.Machine == machine))
        {
            // Setting back what may have been written is part of the same write: with the cable out it fails as well, and the first one is what is to be told.
            var setsBack = open is { } first && first.Key == write.Key && write.After == first.Before;
            open = write.IsIntended() ? setsBack ? open : write : open?.Key == write.Key ? null : open;
        }
        if (open is null)
            return null;
        var value = now.FirstOrDefault(one => one.Key == open.Key)?.Value;
        var what = string.Create(CultureInfo.InvariantCulture, $"a write of {SettingName.InWords(open.Name, open.Axis)}, from {open.Before} to {open.After} was interrupted");
        return value == open.After ? $"{what}; the controller shows the new value"
            : value == open.Before ? $"{what}; the controller shows the old value"
            : string.Create(CultureInfo.InvariantCulture, $"{what}; the controller shows {value}, which is neither");
    }

    private PlannedWrite Restored(SettingDifference difference)
    {
        var known = link.Dialect.Settings.Find(difference.Key) ?? new DialectSetting { Key = difference.Key, Name = difference.Key };
        var before = new SavedSetting(difference.Key, difference.Name, known.Unit, difference.New!, WireNumber.Read(difference.New!));
        return new(known, before, difference.Old!, WireNumber.Read(difference.Old!)!.Value);
    }

    // The controller keeps the decimals it shows.
    private static PlannedWrite Plan(DialectSetting setting, SavedSetting now, double stepsPerMm)
    {
        var point = now.Text.IndexOf('.', StringComparison.Ordinal);
        var value = setting.Unit == "steps/in" ? stepsPerMm * Inch.Mm : stepsPerMm;
        return new(setting, now, value.ToString("F" + (point < 0 ? 0 : now.Text.Length - point - 1), CultureInfo.InvariantCulture), value);
    }

    private async Task<Outcome<SavedSetting>> WriteOneAsync(PlannedWrite write, CancellationToken cancellation)
    {
        var meant = double.Parse(write.Text, CultureInfo.InvariantCulture);
        var entry = new EntryBody.SettingWritten
        {
            Machine = machine,
            Key = write.Setting.Key,
            Name = write.Setting.Name,
            Axis = write.Setting.Axis?.ToString(),
            Before = write.Before.Value,
            After = meant,
            Stage = EntryBody.SettingWritten.Intended,
        };
        if (Keep(entry) is Outcome<bool>.Bad unkept)
            return new Outcome<SavedSetting>.Bad(unkept.Problems);
        return (await link.WriteAsync(write.Setting, write.Text, cancellation).ConfigureAwait(false)).Then(read =>
            Keep(entry with { ReadBack = read.Value, Stage = "read-back" }).Then<SavedSetting>(_ => read.Value == meant ? read
                : new Problem($"{write.Setting.To(write.Text)}: written, but it reads back as {read.Text}", "Save all settings and compare")));
    }

    private Outcome<bool> Keep(EntryBody body) => journal is null ? true : journal.Append(body).Then<bool>(_ => true);
}
