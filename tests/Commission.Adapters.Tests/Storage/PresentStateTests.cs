using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Machines;
using Commission.Core.Reports;
using Commission.Core.Upkeep;
using Commission.Tests;
using Commission.Workshop.Controllers;
using Commission.Workshop.Requests;
using CsCheck;
using LiteDB;
using static System.FormattableString;

namespace Commission.Adapters.Tests.Storage;

public sealed class PresentStateTests : OwnFolder
{
    private const int Kinds = 21;

    private static readonly string[] Axes = ["X", "Y", "Z"];
    private static readonly string[] Procedures = ["axis-scale", "backlash", "switch-logic", "first-power-up", "squareness", "ratio-check"];
    private static readonly int[] Days = [0, 2, 7, 18];
    private static readonly string[] Words = [.. ChangeWord.All.Select(change => change.Word)];
    private static readonly string[] Characteristics = ["axis-scale", "backlash", "squareness", "tram", "gauge-study"];

    private readonly FakeTimeProvider clock = new(new DateTimeOffset(2031, 5, 4, 9, 0, 0, TimeSpan.Zero));
    private int stores;

    /// <summary>One thing that happens, by chance: which, and what it draws on.</summary>
    private readonly record struct Draw(int Kind, int Which, int Other, double Value);

    private JournalFolder Open(string place) => (JournalFolder)JournalFolder.Open(
        place, new JournalOpening { Nature = StoreNature.Real, Program = "0.1.0", Clock = clock, NewStore = () => "heron1", SegmentBytes = 9000 }).Require();

    private static Machine Machine(string name) => Shelf.Heron with { Name = name, X = new() { Switches = Switches.Home, Motors = 2 } };

    private static EntryBody.FindingMade Found(Draw draw, string machine, long? run, long sequence)
    {
        var kind = Characteristics[draw.Which % Characteristics.Length];
        var known = draw.Other % 3 > 0;
        string[] names = kind == "squareness" ? ["squareness", "scaleErrorX"] : [kind == "axis-scale" ? "scaleError" : "reversal", "reversal"];
        return new()
        {
            Machine = machine, Characteristic = kind, Axis = kind is "squareness" or "tram" ? null : Axes[draw.Other % 3], Run = run, Instrument = draw.Other % 2 == 0 ? "caliper" : "indicator",
            Readings = [.. Enumerable.Range(0, draw.Which % 5).Select(step => 1 + ((draw.Other + (step * 7)) % sequence)).Distinct()],
            Options = new FitOptions { Tolerance = draw.Other % 2 == 0 ? new Tolerance(3e-4, "1", "300ppm") : null },
            Finding = new Finding
            {
                Kind = kind, Method = "example/1", Rows = 1, Used = 1, Verdict = Verdict.Within, Advice = new Advice { Action = AdviceAction.Leave, Because = "it is an example" },
                Parameters = [.. names.Distinct().Select(name => new FittedParameter
                {
                    Name = name, Unit = name is "scaleError" or "scaleErrorX" ? "1" : "mm", Value = draw.Value, FreshUncertainty = 4e-5, CoverageFactor = 2,
                    StandardUncertainty = known ? 5e-5 : null, ExpandedUncertainty = known ? 1e-4 : null,
                })],
                Covariance = known ? [.. names.Distinct().Select(_ => names.Distinct().Select(_ => 1e-10).ToImmutableArray())] : [],
            },
        };
    }

    // Runs are named by the entry that began them, those of the second machine below zero; what refers to an entry refers to one that is there.
    private static EntryBody Happens(Draw draw, long sequence, List<long> begun)
    {
        var (machine, axis) = (draw.Other % 4 == 0 ? "Tern" : "Heron", Axes[draw.Which % 3]);
        var own = begun.FindAll(run => (run < 0) == (machine == "Tern"));
        long? run = own.Count == 0 ? null : Math.Abs(own[draw.Which % own.Count]);
        var body = draw.Kind switch
        {
            0 => new EntryBody.RunStarted { Procedure = Procedures[draw.Which % Procedures.Length], ProcedureHash = "0", Axis = draw.Other % 2 == 0 ? axis : null },
            1 or 2 or 3 => Shelf.Reading(draw.Which + 1) with { Run = run },
            4 or 5 => Found(draw, machine, run, sequence),
            6 => Found(draw, machine, null, sequence),
            7 => new EntryBody.RunEnded(draw.Other % 3 == 0 ? "put-aside" : "completed", null) { Run = run },
            8 => new EntryBody.ChangeTold(Words[draw.Which % Words.Length], draw.Other % 2 == 0 ? axis : null, "told"),
            9 => new EntryBody.SettingWritten { Name = "stepsPerMm", Axis = axis, Before = 320, After = 320 * (1 + draw.Value), ReadBack = draw.Other % 2 == 0 ? null : 320, Stage = draw.Other % 2 == 0 ? "intended" : draw.Which % 2 == 0 ? "told" : "read-back" },
            10 or 11 => new EntryBody.Withdrawn(1 + (draw.Which * draw.Other % sequence), "slip"),
            12 => new EntryBody.Skipped($"step-{draw.Which % 2}", draw.Other % 2 == 0 ? "P05" : null, "no meter") { Run = run },
            // An answer is taken back while its run goes on: mostly the last one.
            13 when draw.Other % 2 == 0 => new EntryBody.Noted(Math.Max(1, sequence - 1 - (draw.Which % 4)), EntryBody.Noted.TakenBack) { Run = run },
            13 => new EntryBody.Confirmed($"step-{draw.Which % 2}", "yes") { Run = run },
            14 => new EntryBody.Checked { Step = $"way-{draw.Which % 3}-x", Check = draw.Other % 3 == 0 ? "P05" : draw.Other % 3 == 1 ? "P25" : "closure", Typed = "y", Limit = "yes", Passed = draw.Which % 2 == 0 } with { Run = run },
            15 => new EntryBody.Moved("go", $"{axis} moves 5 mm"),
            16 => new EntryBody.StudyMade(new HandStudy("kit", draw.Which % 2 == 0 ? "caliper" : "tape", 0.01, 9)),
            17 => new EntryBody.Excluded(1 + (draw.Which * draw.Other % sequence), "knocked") { Run = draw.Which % 2 == 0 ? run : null },
            18 => new EntryBody.Superseded(1 + (draw.Which * draw.Other % sequence), null, "read again") { Run = draw.Which % 2 == 0 ? run : null },
            19 => new EntryBody.InstrumentDescribed(new Instrument("caliper", InstrumentKind.CaliperDigital, 0.03, 0.01, 150, "sheet"), draw.Other % 2 == 0),
            _ => (EntryBody)new EntryBody.MachineDescribed(Machine(machine), draw.Which % 7 == 0),
        };
        if (body is EntryBody.RunStarted)
            begun.Add(machine == "Tern" ? -sequence : sequence);
        return body is EntryBody.StudyMade or EntryBody.InstrumentDescribed ? body : body with { Machine = machine };
    }

    // Everything the bench, the order of work, the gate and a new run ask about the present.
    private static List<string> Answers(PresentState present, string name, DateTimeOffset at)
    {
        var (ledger, told) = (present.Ledger, new List<string> { Invariant($"last {present.Ledger.LastSequence} {present.Ledger.LastAt:O}") });
        told.AddRange(ledger.Machines.Values.Select(known => Invariant($"machine {known.Description.Name} {known.Retired} {known.FirstSequence} {known.Described.Sequence}")));
        told.AddRange(ledger.Instruments.Select(known => Invariant($"instrument {known.Key} {known.Value.Sequence}")));
        told.AddRange(((string[])["caliper", "tape"]).Select(tool => Invariant($"study {tool} {ledger.Study("kit", tool)?.Sequence}")));
        if (!ledger.Machines.TryGetValue(name, out var record))
            return told;
        var upkeep = new MachineUpkeep(present.Upkeep, record.Description, at);
        told.AddRange(upkeep.All.Select(state => Invariant($"{state.Key} {state.Standing} {state.Result} {state.MeasuredAt:O} {state.DueAt:O} {string.Join('|', state.Reasons)}")));
        told.AddRange(NextWork.For(upkeep).Select(work => Invariant($"next {work.Item.Id} {work.State.Key.Axis} {work.Because}")));
        told.AddRange(present.Upkeep.Results.Keys.Where(key => key.Machine == name || key.Machine.Length == 0).OrderBy(key => key.ToString(), StringComparer.Ordinal)
            .Select(key => TrendOfResults.Of(present.Upkeep, key)).OfType<TrendView>().Select(view => Invariant($"trend {view.Title} {view.Points.Length} {view.Changed} {string.Join(' ', view.Remarks)} {view.NextCheck:O}")));
        var area = WorkArea.Of(ledger, record.Description);
        told.AddRange([area.Sentence, Invariant($"{area.ErrorMm:R} {area.ExpandedMm:R}"), .. CrossCheck.All(ledger, name).Select(check => check.Sentence)]);
        told.AddRange(ledger.OpenSkips.Where(skip => skip.Made.Body.Machine == name).Select(skip => Invariant($"skip {skip.Made.Sequence} {skip.Procedure} {skip.Axis}")));
        told.AddRange(ledger.LatestChecks(name).Select(check => Invariant($"check {check.Key.Words} {check.Made.Sequence} {check.Made.Body.Passed}")));
        told.AddRange(Enum.GetValues<AxisName>().Select(axis => Invariant($"ratio {axis} {record.Description[axis].StepsPerMm:R}")));
        told.AddRange(ledger.SettingsWritten.Where(write => write.Body.Machine == name).Select(write => Invariant($"setting {write.Sequence} {write.Body.Stage}")));
        told.Add(Invariant($"epoch {ledger.Epoch(name)} {ledger.EpochBegan(name)} {ledger.SettingsWritten.Count(write => write.Body.Machine == name)}"));
        foreach (var run in Procedures.SelectMany(procedure => Axes.Select(axis => ledger.Resumable(name, procedure, axis)).Append(ledger.Resumable(name, procedure))).Append(ledger.Resumable(name)))
            told.Add(run is null ? "none" : Invariant($"run {run.Sequence} {run.Standing} {run.LastSequence} {string.Join(' ', ledger.ReadingsOf(run.Sequence).Select(reading => Invariant($"{reading.Sequence} {reading.Counts}")))} {run.Findings.Count}"));
        told.AddRange(Characteristics.SelectMany(kind => Axes.Select(axis => (string?)axis).Append(null).Select(axis => Invariant($"latest {ledger.Latest(name, kind, axis)?.Sequence}"))));
        var facts = GateFacts.Of(record.Description, ledger);
        told.Add(string.Join(' ', facts.Passed.Order()) + "/" + string.Join(' ', facts.Skipped.Order()) + "/" + string.Join(' ', facts.Moved.Order()) + "/" + string.Join(' ', facts.DirectionChecked.Order()));
        return told;
    }

    [Fact]
    public void The_present_from_the_index_is_the_present_from_the_whole_journal()
    {
        var draw = Gen.Select(Gen.Int[0, Kinds - 1], Gen.Int[0, 60], Gen.Int[0, 60], Gen.Double[-3e-4, 3e-4]).Select((kind, which, other, value) => new Draw(kind, which, other, value));
        Gen.Select(draw.Array[0, 140], Gen.Int[0, 140], Gen.Int[0, 900]).SampleFixed((draws, cut, days) => Compare(draws, cut, days), iter: 8);
    }

    // A number told wrong is no more in force, whichever way the present is read.
    [Fact]
    public void A_told_ratio_that_was_taken_back_is_gone_from_the_index_as_from_the_journal()
    {
        using var journal = Open(Folder);
        using var index = LedgerIndex.Open(journal).Require();
        journal.Append(new EntryBody.MachineDescribed(Machine("Heron"), false) { Machine = "Heron" }).Require();
        EntryBody.SettingWritten Ratio(double before, double after) => new() { Machine = "Heron", Name = "stepsPerMm", Axis = "X", Before = before, After = after, Stage = "told" };
        journal.Append(Found(new Draw(6, 0, 0, 1e-4), "Heron", null, journal.Last.Sequence + 1)).Require();
        journal.Append(Ratio(320, 319.6)).Require();
        var slip = journal.Append(Ratio(319.6, 3196)).Require().Sequence;
        void AssertSame(double ratio, int written)
        {
            index.CatchUp();
            var (now, whole) = (clock.GetUtcNow().AddDays(1), PresentState.Of(journal.Entries()));
            Assert.Equal(ratio, whole.Ledger.Machines["Heron"].Description.X.StepsPerMm);
            Assert.Equal(written, whole.Ledger.SettingsWritten.Count);
            Assert.Equal(Answers(whole, "Heron", now), Answers(index.Present("Heron"), "Heron", now));
        }

        AssertSame(3196, written: 2);
        journal.Append(new EntryBody.Withdrawn(slip, "a comma")).Require();
        AssertSame(319.6, written: 1);
    }

    private void Compare(Draw[] draws, int cut, int days)
    {
        var place = Path.Combine(Folder, (++stores).ToString(CultureInfo.InvariantCulture));
        using var journal = Open(place);
        journal.Append(new EntryBody.MachineDescribed(Machine("Heron"), false) { Machine = "Heron" }).Require();
        using var index = LedgerIndex.Open(journal).Require();
        PresentState? followed = null;
        var begun = new List<long>();
        for (var at = 0; at < draws.Length; at++)
        {
            if (at == cut)
            {
                index.CatchUp();
                followed = index.Present("Heron");
            }

            // Now and then the clock was wrong and is set back.
            if (draws[at] is { Which: 7, Other: > 20 })
                clock.AdjustTime(clock.GetUtcNow().AddDays(-3));
            clock.Advance(TimeSpan.FromHours(7));
            var entry = journal.Append(Happens(draws[at], journal.Last.Sequence + 1, begun)).Require();
            followed = followed?.After(entry);
        }

        index.CatchUp();
        var (now, whole) = (clock.GetUtcNow().AddDays(days), PresentState.Of(journal.Entries()));
        foreach (var name in (string[])["Heron", "Tern"])
        {
            Assert.Equal(Answers(whole, name, now), Answers(index.Present(name), name, now));
            Assert.Equal(whole.Ledger.Findings.Values.Where(finding => finding.Made.Body.Machine == name).Select(finding => new FindingMark(finding.Sequence, finding.Counts)), index.Findings(name));
        }

        if (followed is not null)
            Assert.Equal(Answers(whole, "Heron", now), Answers(followed, "Heron", now));
        index.Dispose();
        CompareReports(journal, place);
    }

    // The journal that is open for writing has no index here: it reads the whole past.
    private void CompareReports(JournalFolder slow, string place)
    {
        using var quick = (JournalFolder)JournalFolder.Open(
            place, new JournalOpening { Nature = StoreNature.Real, Program = "0.1.0", Clock = clock, NewStore = () => "heron1", SegmentBytes = 9000, Write = false }).Require();
        quick.UseIndex(null);
        Assert.NotNull(quick.Index);
        var born = slow.Entries().First().At;
        string Day(int days) => born.AddDays(days).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        foreach (var name in (string[])["Heron", "Tern"])
        {
            var runs = Ledger.From(slow.Entries()).Runs.Values.Where(run => run.Started.Body.Machine == name).Select(run => run.Sequence).ToList();
            Assert.All(runs, run => Assert.NotNull(quick.Reported(name, run)));
            var plain = new ReportRequest { Machine = name };
            List<ReportRequest> requests =
            [
                plain, plain with { Card = true }, plain with { AsOf = "2999-01-01" }, plain with { AsOf = "2000-01-01" }, plain with { Session = 1 }, .. runs.Take(2).Select(run => plain with { Session = run }),
                .. Days.Select(Day).SelectMany(day => (ReportRequest[])[plain with { AsOf = day }, plain with { AsOf = day, Card = true }, plain with { AsOf = day, Session = runs.FirstOrDefault() }, plain with { AsOf = day, Against = Day(20) }, new() { AsOf = day }]),
                plain with { Against = Day(10) }, new() { Against = Day(5) },
            ];
            Assert.All(Days, day => Assert.NotNull(quick.Reported(name, null, born.AddDays(day))));
            Assert.All(requests, request => Assert.Equal(Printed(slow, request), Printed(quick, request)));
        }
    }

    private static string Printed(IJournal journal, ReportRequest request) => new WriteReport(journal, "0.1.0").Run(request)
        .Match(report => HtmlReport.Write(report) + CsvReport.Write(report), problems => string.Join('\n', problems));

    [Fact]
    public void A_line_of_the_index_that_was_altered_is_not_believed()
    {
        using (var journal = Open(Folder))
        {
            journal.Append(new EntryBody.MachineDescribed(Machine("Heron"), false) { Machine = "Heron" }).Require();
            LedgerIndex.Open(journal).Require().Dispose();
        }

        using (var database = new LiteDatabase(new ConnectionString { Filename = Path.Combine(Folder, "index.db"), Collation = Collation.Binary }))
        {
            var lines = database.GetCollection("present");
            var line = lines.FindAll().Single(document => document["sequence"].AsInt64 == 2);
            line["line"] = System.Text.Encoding.UTF8.GetBytes(System.Text.Encoding.UTF8.GetString(line["line"].AsBinary).Replace("Heron", "Tern!", StringComparison.Ordinal));
            lines.Update(line);
        }

        using var again = Open(Folder);
        again.UseIndex(null);
        Assert.Equal(["Heron"], again.Present("Heron").Ledger.Machines.Keys);
        Assert.True(again.Present("Heron").Whole);
    }
}
