using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Upkeep;
using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>The card for the wall beside the machine: one page with what somebody needs who stands before it and has no computer at hand.</summary>
public static class WallCard
{
    // The checks of the emergency stop: its effect, its release, its independence, its wire, and at speed.
    private static readonly ImmutableArray<(string Id, string Words)> StopChecks =
    [
        ("P05", "takes the supply off the drives"), ("P05a", "within reach, and works with the laptop unplugged"), ("P06", "nothing starts when it is released"),
        ("P07", "works with the controller switched off"), ("P08", "a pulled wire stops too"), ("P29", "stops a moving axis"),
    ];

    private const string Unknown = "not known";

    // What may be many is cut, so that the card stays one page; each cut says so.
    private const int MostSkips = 5;
    private const int MostOffsets = 6;
    private const int MostDates = 10;
    private const int LongestLine = 110;
    private const int LongestName = 40;

    /// <summary>The card.</summary>
    /// <param name="ledger">The ledger up to the instant of the card.</param>
    /// <param name="scope">What it tells of.</param>
    public static Report Build(Ledger ledger, ReportScope scope)
    {
        var latest = ReportBuilder.Latest(ledger, scope);
        ImmutableArray<ReportSection> before =
        [
            new ReportSection("Emergency stop", 1, [Stop(ledger, scope)]),
            .. SettingsSections.OpenSkips(ledger, scope).ToImmutableArray() is { IsEmpty: false } open
                ? (ReadOnlySpan<ReportSection>)[new ReportSection("Skipped, still to be done", 1, [new ReportBlock.Items(Cut([.. open.Select(line => Clipped(line, LongestLine))], MostSkips, "skips, see history next"))])] : [],
            new ReportSection("Settings, as the controller wants them", 1, [Settings(ledger, scope, latest), HomeOffsets(ledger, scope)]),
            WallSpeeds.Of(scope, latest),
        ];
        ImmutableArray<ReportSection> after =
        [
            new ReportSection("Next dates", 1, [Dates(scope)]),
            new ReportSection("After a change, measure again", 1, [Changes()]),
            new ReportSection("Where this comes from", 1, [new ReportBlock.Paragraph(Invariant(
                $"Journal of {scope.Entries} entries, hash of the last {scope.Tip}. This card tells what was measured; it does not say that the machine is without danger."))]),
        ];
        var room = CardRoom.PageMm - before.Concat(after).Sum(CardRoom.Of);
        return new Report
        {
            Title = Invariant($"{Clipped(scope.Machine.Name, LongestName)}, as of {scope.AsOf:yyyy-MM-dd}"),
            AsOf = scope.AsOf,
            Practice = ledger.Born?.Body.Nature == StoreNature.Practice,
            OnePage = true,
            Sections = [.. before, WallVerdicts.Of(scope, latest, room), .. after],
        };
    }

    /// <summary>The ratio of an axis in the unit and with the decimals of its controller; null where it is not known.</summary>
    internal static string? Ratio(AxisDescription axis, double? stepsPerMm)
    {
        if (stepsPerMm is not { } k)
            return null;
        var (value, decimals, unit) = RatioProposal.AsKept(k, axis);
        var lead = unit == "steps/turn" ? Invariant($", lead {axis.TravelPerTurnMm:0.####} mm") : "";
        return $"{Fixed(value, decimals)} {unit}{lead}";
    }

    private static ReportBlock.Table Settings(Ledger ledger, ReportScope scope, List<FindingRecord> latest) => new(
        "setting",
        ["axis", "ratio", "takes up lost motion", "greatest rate", "acceleration", "travel"],
        [.. Enum.GetValues<AxisName>().Select(axis => (ImmutableArray<ReportCell>)
        [
            MachineWords.Of(MachineWords.Axes, axis),
            Ratio(scope.Machine[axis], scope.Machine[axis].StepsPerMm) ?? Unknown,
            Compensation(ledger, scope, axis),
            Held(ledger, scope, "greatestRate", axis) ?? (WallSpeeds.Allowed(scope, latest, axis) is { } most ? $"{Unknown}; set at most {most}" : Unknown),
            Held(ledger, scope, "acceleration", axis) ?? Unknown,
            Length(scope, scope.Machine.Travel(axis)),
        ])]);

    private static string Compensation(Ledger ledger, ReportScope scope, AxisName axis) => scope.Machine[axis].Compensation switch
    {
        Machines.Compensation.None => "the controller cannot",
        Machines.Compensation.Steps when Written(ledger, scope, Backlash.CompensationSetting, axis) is { } mm && scope.Machine[axis].StepsPerMm is { } ratio => Fixed(mm * ratio, 0) + " steps",
        Machines.Compensation.Steps or Machines.Compensation.Millimetres when Written(ledger, scope, Backlash.CompensationSetting, axis) is { } mm => Fixed(mm, 3) + " mm",
        _ => Unknown,
    };

    private static ReportBlock.Items HomeOffsets(Ledger ledger, ReportScope scope)
    {
        var told = ledger.SettingsWritten.Where(write => write.Body.Machine == scope.Machine.Name && write.Body.Name is "homeOffset" or "pullOff" && !write.Body.IsIntended())
            .GroupBy(write => (write.Body.Name, write.Body.Axis)).Select(group => group.Last())
            .Select(write => Invariant($"{(write.Body.Name == "homeOffset" ? "home offset" : "pull-off")} {write.Body.Axis}: {write.Body.ReadBack ?? write.Body.After:0.####} mm, of {write.At:yyyy-MM-dd}")).ToList();
        // What was read from the controller and never written or told since stands as it was received.
        var saved = ledger.SettingsSaved.FindLast(s => s.Body.Machine == scope.Machine.Name)?.Body.Settings ?? [];
        told.AddRange(saved.Where(setting => setting.Name is "homeOffset" or "pullOff" && !ledger.SettingsWritten.Any(write => write.Body.Machine == scope.Machine.Name && write.Body.Name == setting.Name))
            .Select(setting => $"{(setting.Name == "homeOffset" ? "home offset" : "pull-off")}: {setting.Text} {setting.Unit}, as saved".Replace(" ,", ",", StringComparison.Ordinal)));
        if (!told.Exists(line => line.StartsWith("home offset", StringComparison.Ordinal)))
            told.Insert(0, "home offset of the second motor: none entered");
        return new(Cut([.. told], MostOffsets, "offsets, see the report"));
    }

    internal static string Title(EntryBody.FindingMade made) => CharacteristicKinds.TitleOf(made.Characteristic);

    private static ReportBlock Dates(ReportScope scope)
    {
        var dated = StandingSections.Upkeep(scope).All.Where(state => state.DueAt is not null)
            .OrderBy(state => state.Usable).ThenBy(state => state.DueAt).ThenBy(state => state.Key.Item, StringComparer.Ordinal).ToList();
        return dated.Count == 0
            ? new ReportBlock.Paragraph("Nothing was measured yet.")
            : new ReportBlock.Table("date", ["due", "result"], [.. dated.Select(state => (State: state, When: state.Usable ? Day(state.DueAt!.Value) : "now, " + StandingWords.Of(state.Standing)))
                .GroupBy(one => one.When).SelectMany((group, at) => group.Select(one => (one.State, When: at < MostDates - 1 ? group.Key : "later"))).GroupBy(one => one.When)
                .Select(group => (ImmutableArray<ReportCell>)[group.Key, string.Join("; ", group.GroupBy(one => one.State.Key.Item, one => one.State).Select(Named))])]);
    }

    private static string Named(IGrouping<string, ResultState> states) =>
        StandingSections.Title(states.First().Key) + (states.First().Key.Axis is null ? "" : " " + string.Join(", ", states.Select(state => state.Key.Axis).Order(StringComparer.Ordinal)));

    private static ReportBlock.Items Stop(Ledger ledger, ReportScope scope)
    {
        var checks = ledger.ChecksNow(scope.Machine.Name);
        var made = StopChecks.Where(check => checks.ContainsKey(check.Id)).Select(check => (check.Id, check.Words, Made: checks[check.Id]));
        var missing = StopChecks.Where(check => !checks.ContainsKey(check.Id)).Select(check => $"{check.Id} ({check.Words})").ToList();
        return new ReportBlock.Items(
        [
            .. made.Select(check => Invariant($"{check.Id}, {check.Words}: {(check.Made.Body.Passed ? "passed" : "FAILED")} on {check.Made.At:yyyy-MM-dd}{Number(check.Made.Body, scope)}")),
            .. missing.Count > 0 ? (string[])["not tested since the last change of the machine: " + string.Join(", ", missing) + "; see the procedure readiness"] : [],
        ]);
    }

    // A yes says no more than that it passed.
    private static string Number(EntryBody.Checked check, ReportScope scope) =>
        check.Value is null ? "" : $", {CheckText.Found(check, scope.Units)} (limit {CheckText.Limit(check, scope.Units)})";

    private static ReportBlock.Table Changes() => new(
        "change",
        ["what happened", "what to do"],
        [.. StaleTable.Rows.Select(row => (ImmutableArray<ReportCell>)[ChangeWord.TitleOf(row.Change), row.Todo])]);

    // The last value that the controller was seen or told to hold, if it is newer than the description.
    private static double? Written(Ledger ledger, ReportScope scope, string name, AxisName axis)
    {
        var word = MachineWords.Of(MachineWords.Axes, axis);
        var described = ledger.Machines[scope.Machine.Name].Described.Sequence;
        var write = ledger.SettingsWritten.FindLast(w => w.Body.Machine == scope.Machine.Name && w.Body.Name == name && w.Body.Axis == word && !w.Body.IsIntended() && w.Sequence > described);
        return write?.Body.ReadBack ?? write?.Body.After;
    }

    // What the controller was last seen or told to hold: saved with all its settings, or written since.
    private static string? Held(Ledger ledger, ReportScope scope, string name, AxisName axis)
    {
        var word = MachineWords.Of(MachineWords.Axes, axis);
        var saved = ledger.SettingsSaved.FindLast(s => s.Body.Machine == scope.Machine.Name);
        if (ledger.SettingsWritten.FindLast(w => w.Body.Machine == scope.Machine.Name && w.Body.Name == name && w.Body.Axis == word && !w.Body.IsIntended() && w.Sequence > (saved?.Sequence ?? 0)) is { } written)
            return Invariant($"{written.Body.ReadBack ?? written.Body.After:0.###} {SettingUnit.Of(ledger, written.Body)}").TrimEnd();
        if (saved is null)
            return null;
        var keys = Machines.Dialects.ShippedDialects.Find(saved.Body.Dialect)?.Settings.Known.Where(known => known.Name == name && known.Axis == axis).Select(known => known.Key).ToHashSet() ?? [];
        return saved.Body.Settings.FirstOrDefault(setting => keys.Contains(setting.Key)) is { } found ? $"{found.Text} {found.Unit}" : null;
    }

    private static string Length(ReportScope scope, double mm)
    {
        var unit = scope.Units.Length;
        return Invariant($"{mm / unit.Factor:0.###} {unit.Symbol}");
    }

    /// <summary>The first lines, and how many more there are.</summary>
    private static ImmutableArray<string> Cut(ImmutableArray<string> lines, int most, string what) =>
        lines.Length <= most ? lines : [.. lines.Take(most - 1), Invariant($"and {lines.Length - most + 1} more {what}")];

    /// <summary>A text that was typed, no longer than there is room for.</summary>
    internal static string Clipped(string text, int most) => text.Length <= most ? text : text[..(most - 3)].TrimEnd() + "...";

    internal static string Day(DateTimeOffset at) => Invariant($"{at:yyyy-MM-dd}");

    private static string Fixed(double value, int decimals) =>
        value.ToString("F" + Math.Clamp(decimals, 0, 10).ToString(System.Globalization.CultureInfo.InvariantCulture), System.Globalization.CultureInfo.InvariantCulture);
}
