using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Readings;
using Commission.Workshop.Requests;

namespace Commission.Workshop.Tests.Requests;

public sealed class JudgeReadingsTests
{
    private static readonly Machine Heron = new() { Name = "Heron", TravelMm = [420, 580, 90], X = new AxisDescription { Drive = DriveKind.Screw, TravelPerTurnMm = 5, StepsPerMm = 320, Grade = 7 } };

    // Readings over 600 mm with a long caliper, 800 ppm too long: far beyond a screw of grade 7.
    private static readonly string Csv = "commanded_mm,measured_mm,direction\n" + string.Join('\n', new[] { 20, 580, 300, 580.1, 20.1, 20.2, 580.2, 300.1, 580.3, 20.3 }
        .Select((c, k) => FormattableString.Invariant($"{c},{Math.Round((c * 1.0008) + (k % 2 == 0 ? 0.01 : -0.01), 2)},{(k % 4 < 2 ? "+" : "-")}")));

    private static Finding Fit(string instrument, Ledger ledger)
    {
        var kind = CharacteristicKinds.Find("axis-scale")!;
        var table = CsvReadings.Read("t.csv", Csv, kind.Columns).Require();
        var options = new FitOptions
        {
            Axis = AxisName.X, Drive = DriveKind.Screw, ScrewGrade = 7, StepsPerMm = 320, Tolerance = ToleranceText.Parse("300ppm").Require(),
            Instrument = new Instrument(instrument, InstrumentKind.CaliperDigital, 0.03, 0.01, 600, "invented"), Hand = new HandStudy("o", instrument, 0.015, 14),
        };
        return new JudgeReadings(ledger, Heron).Run(kind, table, options).Require().Finding;
    }

    private static Ledger Kept(Finding finding, string instrument, params EntryBody[] after)
    {
        using var journal = new MemoryJournal(StoreNature.Real, "abc123", "test", TimeProvider.System);
        EntryBody made = new EntryBody.FindingMade { Machine = "Heron", Characteristic = "axis-scale", Axis = "X", Instrument = instrument, Finding = finding, Options = new FitOptions() };
        foreach (var body in (EntryBody[])[new EntryBody.MachineDescribed(Heron, false) { Machine = "Heron" }, made, .. after]) journal.Append(body).Require();
        return Ledger.From(journal.Entries());
    }

    [Fact]
    public void A_screw_of_known_grade_is_changed_only_where_two_instruments_agree()
    {
        var alone = Fit("caliper", Ledger.Empty);
        Assert.Equal(AdviceAction.FindTheFault, alone.Advice.Action);
        Assert.Equal(AdviceAction.FindTheFault, Fit("caliper", Kept(alone, "caliper")).Advice.Action);
        Assert.Equal(AdviceAction.Change, Fit("rod", Kept(alone, "caliper")).Advice.Action);
    }

    [Fact]
    public void A_result_from_before_a_change_of_the_drive_does_not_count_as_a_second_one()
    {
        var alone = Fit("caliper", Ledger.Empty);
        var replaced = new EntryBody.ChangeTold("screw-replaced", "X", "") { Machine = "Heron" };
        Assert.Equal(AdviceAction.FindTheFault, Fit("rod", Kept(alone, "caliper", replaced)).Advice.Action);
    }

    [Fact]
    public void A_change_that_contradicts_what_still_stands_of_the_axis_is_measured_again_first()
    {
        var found = Belt(0.0020, Ledger.Empty);
        Assert.Equal(AdviceAction.Change, found.Advice.Action);
        var before = Belt(0.0002, Ledger.Empty);

        var against = Belt(0.0020, Kept(before, "caliper"));
        Assert.Equal(AdviceAction.MeasureMore, against.Advice.Action);
        Assert.Null(against.Advice.Setting);
        Assert.StartsWith("It contradicts a result that still stands, +187 +/- ", against.Advice.Because, StringComparison.Ordinal);
        Assert.Matches(@"^It contradicts a result that still stands: \+187 \+/- \d+ ppm of \d+ \w+ \d{4}, \d\d:\d\d with caliper, here \+(19|20)\d\d \+/- ", against.Remarks[0]);

        Assert.Equal(found.Advice, Belt(0.0020, Kept(found, "caliper")).Advice);
        Assert.Equal(found.Advice, Belt(0.0020, Kept(before, "caliper", new EntryBody.ChangeTold("belt-tensioned", "X", "") { Machine = "Heron" })).Advice);
    }

    [Fact]
    public void A_finding_made_anew_does_not_contradict_itself()
    {
        var ledger = Kept(Belt(0.0002, Ledger.Empty), "caliper");
        Assert.Equal(AdviceAction.Change, Belt(0.0020, ledger, insteadOf: ledger.Findings.Keys.Single()).Advice.Action);
    }

    private static Finding Belt(double scale, Ledger ledger, long? insteadOf = null)
    {
        var kind = CharacteristicKinds.Find("axis-scale")!;
        var csv = "commanded_mm,measured_mm,direction\n" + string.Join('\n', new[] { 20, 580, 300, 580.1, 20.1, 20.2, 580.2, 300.1, 580.3, 20.3 }
            .Select((c, k) => FormattableString.Invariant($"{c},{Math.Round((c * (1 + scale)) + (k % 2 == 0 ? 0.01 : -0.01), 2)},{(k % 4 < 2 ? "+" : "-")}")));
        var options = new FitOptions
        {
            Axis = AxisName.X, Drive = DriveKind.Belt, StepsPerMm = 80, Tolerance = ToleranceText.Parse("300ppm").Require(),
            Instrument = new Instrument("caliper", InstrumentKind.CaliperDigital, 0.03, 0.01, 600, "invented"),
        };
        return new JudgeReadings(ledger, Heron) { InsteadOf = insteadOf }.Run(kind, CsvReadings.Read("t.csv", csv, kind.Columns).Require(), options).Require().Finding;
    }
}
