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
}
