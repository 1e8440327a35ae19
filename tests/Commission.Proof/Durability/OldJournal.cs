using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Commission.Adapters.Storage;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Instruments;
using Commission.Core.Machines;

namespace Commission.Proof.Durability;

/// <summary>
/// <c>old-journal DIR</c>: makes the small journal that stands for this version's format in <c>tests/OldJournals</c>, always the same
/// bytes. Once a version is released its folder is never made anew: later versions have to read it as it stands.
/// </summary>
internal static class OldJournal
{
    /// <summary>The version whose format is written now.</summary>
    internal const string Version = "0.1";

    // Two zones, a summer time that ends, and a clock set back: the order of the entries is that of their numbers.
    private static readonly ImmutableArray<DateTimeOffset> Clock =
    [
        new(2026, 10, 25, 2, 30, 0, TimeSpan.FromHours(2)), new(2026, 10, 25, 2, 10, 0, TimeSpan.FromHours(1)), new(2026, 10, 25, 9, 0, 0, TimeSpan.FromHours(-4)),
        new(2026, 10, 24, 9, 0, 0, TimeSpan.FromHours(-4)),
    ];

    /// <summary>Makes the journal.</summary>
    /// <returns>0.</returns>
    internal static int Write(string folder)
    {
        Directory.CreateDirectory(Path.Combine(folder, "journal"));
        File.WriteAllBytes(Path.Combine(folder, "journal", "000001.jsonl"), Segment());
        File.WriteAllText(Path.Combine(folder, "listing.txt"), Listing(Entries()));
        return 0;
    }

    /// <summary>The bytes of its only segment.</summary>
    internal static byte[] Segment()
    {
        var medium = new CutPowerMedium();
        // Only the segment's first line is taken from the store: the entries have their instants from a list.
        JournalFolder.OpenOn(_ => medium, new JournalOpening { Nature = StoreNature.Real, Program = Version, Clock = TimeProvider.System, NewStore = () => "old01" }).Require().Dispose();
        var first = medium.Read("000001.jsonl", 0, int.MaxValue);
        var bytes = new List<byte>(first[..(Array.IndexOf(first, (byte)'\n') + 1)]);
        var previous = JournalLine.NoPrevious;
        foreach (var entry in Entries())
        {
            var line = JournalLine.Write(entry, previous).Require();
            previous = JournalLine.Self(line);
            bytes.AddRange([.. line, (byte)'\n']);
        }

        return [.. bytes];
    }

    /// <summary>Every entry in a line of its own values, in words that no wording of the program changes: what a later version must still read.</summary>
    internal static string Listing(IEnumerable<JournalEntry> entries)
    {
        var text = new StringBuilder();
        foreach (var entry in entries)
            text.Append(string.Create(CultureInfo.InvariantCulture, $"{entry.Sequence} {entry.At:O} {entry.Body.Machine}/{entry.Body.Operator}/{entry.Body.Run} {Said(entry.Body)}\n"));
        return text.ToString();
    }

    private static string Said(EntryBody body) => string.Create(CultureInfo.InvariantCulture, $"{body switch
    {
        EntryBody.StoreBorn born => $"born {born.Nature} {born.Store} {born.Program}",
        EntryBody.MachineDescribed machine => $"machine {machine.Description.Name} {string.Join(' ', machine.Description.TravelMm)} {machine.Description.X.StepsPerMm} {machine.Retired}",
        EntryBody.InstrumentDescribed instrument => $"instrument {instrument.Description.Name} {instrument.Description.Kind} {instrument.Retired}",
        EntryBody.OperatorEntered person => $"operator {person.Handle}",
        EntryBody.StudyMade study => $"study {study.Study}",
        EntryBody.RunStarted run => $"run {run.Procedure} {run.ProcedureHash} {run.Axis} {run.Seed} {string.Join(' ', run.Options)}",
        EntryBody.ReadingTaken reading => FormattableString.Invariant($"reading {reading.Recorded} {reading.Step} {reading.Cell} {reading.Place} {reading.Typed} {reading.Value:R} {reading.Unit} {string.Join(' ', reading.Given)} {string.Join(' ', reading.Words)} {reading.Instrument}"),
        EntryBody.FindingMade found => FormattableString.Invariant($"finding {found.Characteristic} {found.Axis} {string.Join(' ', found.Readings)} {found.Finding.Method} {found.Finding.Headline.Value:R} {found.Finding.Headline.ExpandedUncertainty:R} {found.Finding.Verdict} {Said(found.Options.Tolerance)}"),
        EntryBody.Checked check => FormattableString.Invariant($"checked {check.Step} {check.Check} {check.Typed} {check.Value:R} {check.Unit} {check.Limit} {check.Passed}"),
        EntryBody.SettingsSaved saved => $"settings {saved.Dialect} {string.Join(' ', saved.Settings)}",
        _ => body.ToString(),
    }}");

    // By hand: what a later version writes down besides is not what the old one said.
    private static string Said(Tolerance? limit) => limit is null ? "" : FormattableString.Invariant($"Tolerance {{ Value = {limit.Value}, Unit = {limit.Unit}, Typed = {limit.Typed} }}");

    private static IEnumerable<JournalEntry> Entries() => Bodies().Select((body, at) => new JournalEntry(
        string.Create(CultureInfo.InvariantCulture, $"old01:{at + 1}"), at + 1, Clock[Math.Min(at / 7, Clock.Length - 1)].AddMinutes(at % 7), body with { Machine = at == 0 ? null : "Heron", Operator = at > 4 ? "em" : null }));

    private static ImmutableArray<EntryBody> Bodies() =>
    [
        new EntryBody.StoreBorn(StoreNature.Real, "old01", Version),
        new EntryBody.MachineDescribed(new Machine { Name = "Heron", TravelMm = [420, 580, 90], Class = WorkClass.Wood, X = new() { Drive = DriveKind.Screw, TravelPerTurnMm = 5, StepsPerMm = 320 } }, false),
        new EntryBody.InstrumentDescribed(new Instrument("caliper \"150\"", InstrumentKind.CaliperDigital, 0.03, 0.01, 150, "sheet"), false),
        new EntryBody.OperatorEntered("em"),
        new EntryBody.StudyMade(new HandStudy("em", "caliper \"150\"", 0.011, 9)),
        new EntryBody.RunStarted { Procedure = "axis-scale", ProcedureHash = "ff", Axis = "X", Instrument = "caliper \"150\"", Seed = -7, Options = ImmutableSortedDictionary<string, string>.Empty.Add("windows", "2") },
        new EntryBody.Confirmed("warm-up", "yes") { Run = 6 },
        new EntryBody.Checked { Run = 6, Step = "supply", Check = "P05", Typed = "24,1", Value = 24.1, Unit = "V", Limit = "24 V within 5 %", Passed = true },
        new EntryBody.Skipped("supply", "P12", "no meter") { Run = 6 },
        Reading(1, 10, 10.01), Reading(2, 60, 60.02), Reading(3, 110, 110.05), Reading(4, 150, 151.06),
        new EntryBody.Superseded(13, 15, "typed wrong") { Run = 6 },
        Reading(5, 150, 150.06),
        new EntryBody.Excluded(12, "jaw tilted") { Run = 6 },
        new EntryBody.Noted(12, "kept all the same") { Run = 6 },
        Found(),
        new EntryBody.Withdrawn(18, "wrong caliper"),
        new EntryBody.ChangeTold("crash", "Y", "hit the clamp"),
        new EntryBody.SettingsSaved("numbered-settings", [new SavedSetting("100", "stepsPerMm", "steps/mm", "320.000", 320)]),
        new EntryBody.SettingWritten { Key = "100", Name = "stepsPerMm", Axis = "X", Before = 320, After = 320.04, ReadBack = 320.04, Stage = "read-back" },
        new EntryBody.Moved("far", "X+25"),
        new EntryBody.Stopped("an answer was late", "nothing was touched"),
        new EntryBody.RunEnded("put-aside", "lunch") { Run = 6 },
    ];

    private static EntryBody.ReadingTaken Reading(int recorded, double commanded, double measured) => new()
    {
        Run = 6, Recorded = recorded, Step = "readings", Cell = recorded - 1, Place = "Gr\u00f6\u00dfe \u2212 far", Typed = measured.ToString("F2", CultureInfo.InvariantCulture).Replace('.', ','), Value = measured, Unit = "mm",
        Given = ImmutableSortedDictionary<string, double>.Empty.Add("commanded_mm", commanded), Words = ImmutableSortedDictionary<string, string>.Empty.Add("direction", "+"), Instrument = "caliper \"150\"",
    };

    private static EntryBody.FindingMade Found() => new()
    {
        Run = 6, Characteristic = "axis-scale", Axis = "X", Readings = [10, 11, 15], Instrument = "caliper \"150\"", Configuration = "c0ffee",
        Options = new FitOptions { Axis = AxisName.X, StepsPerMm = 320, Tolerance = new Tolerance(3e-4, "1", "300ppm") },
        Finding = new Finding
        {
            Kind = "axis-scale", Method = "axis-scale/1", Rows = 4, Used = 3, Verdict = Verdict.Undecided,
            Parameters = [new FittedParameter { Name = "scaleError", Unit = "1", Value = 0.1 + 0.2, StandardUncertainty = 5e-5, FreshUncertainty = 4e-5, SharedUncertainty = 3e-5, DegreesOfFreedom = 7.5, CoverageFactor = 2.1, ExpandedUncertainty = 1e-4 }],
            Residuals = [0.01, -0.01, 0], Remarks = ["no remark"], Budget = [new BudgetLine("instrument", 0.4, true)],
            Advice = new Advice { Action = AdviceAction.MeasureMore, Because = "the interval is wide", Next = "six more" },
        },
    };
}
