using Commission.Core.Instruments;
using Commission.Core.Quantities;
using Commission.Tests;
using Commission.Workshop.Requests;
using Microsoft.Extensions.Time.Testing;

namespace Commission.Workshop.Tests.Requests;

public sealed class CheckInstrumentTests : IDisposable
{
    private readonly MemoryJournal _journal = new(StoreNature.Real, "abc", "test", new FakeTimeProvider());

    public void Dispose() => _journal.Dispose();

    [Fact]
    public void The_new_limit_holds_the_whole_interval_and_the_instrument_is_described_anew()
    {
        var found = new CheckInstrument(_journal).Run(Invented.Caliper, "125", "0.0012", "125.01 125.02 125,01 125.01 125.02", "11 Apr 2026", ShownUnits.Millimetres).Require();
        Assert.Equal(0.014, found.ErrorMm, 9);
        // By hand: s = 0.00548 over five readings, 0.00245 of the mean; digit 0.01/sqrt(12) = 0.00289; block 0.0012/sqrt(3) = 0.00069; u = 0.00385.
        // Effective degrees of freedom 24.4, t = 2.06.
        Assert.Equal(0.00794, found.ExpandedMm, 4);
        Assert.InRange(found.LimitMm, found.ErrorMm + found.ExpandedMm, found.ErrorMm + found.ExpandedMm + 1e-4);
        var described = Ledger.From(_journal.Entries()).Instruments["caliper 150"].Body.Description;
        Assert.Equal(found.LimitMm, described.LimitMm);
        Assert.Equal("checked against 125 mm, 11 Apr 2026: +0.0140 +/- 0.0079 mm (k=2.06, 95 %)", described.Source);
    }

    [Fact]
    public void Equal_readings_leave_at_least_one_last_digit()
    {
        var found = new CheckInstrument(_journal).Run(Invented.Caliper, "125", "", "125.00 125.00 125.00", "today", ShownUnits.Millimetres).Require();
        Assert.Equal(0, found.ErrorMm);
        Assert.True(found.LimitMm >= 0.01);
    }

    [Theory]
    [InlineData(null)]
    [InlineData(0.0)]
    public void Without_a_last_digit_equal_readings_are_no_proof_and_the_check_is_refused(double? digit)
    {
        var bad = Assert.IsType<Outcome<InstrumentCheck>.Bad>(new CheckInstrument(_journal).Run(Invented.Caliper with { ResolutionMm = digit }, "125", "", "125 125 125", "today", ShownUnits.Millimetres));
        Assert.Contains("last digit", bad.Problems[0].What, StringComparison.Ordinal);
        Assert.Empty(Ledger.From(_journal.Entries()).Instruments);
    }

    [Fact]
    public void An_owner_of_an_inch_machine_types_inches()
    {
        var found = new CheckInstrument(_journal).Run(Invented.Caliper, "5", "0.0001", "5.0005 5.0010 5.0005", "today", ShownUnits.Inches).Require();
        // The mean is 2/3 of a thousandth of an inch over: 0.0167 mm.
        Assert.Equal(0.002 / 3 * 25.4, found.ErrorMm, 9);
        Assert.Contains(" in (k=", found.Words(ShownUnits.Inches), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("125.01 125.02 125.01 125.01 125.02")]
    [InlineData("125.01 125.01 125.02 125.02 125.02 125.01")]
    [InlineData("124.99 124.99 124.99")]
    public void The_limit_is_never_below_the_error_and_its_U(string readings)
    {
        var found = new CheckInstrument(_journal).Run(Invented.Caliper, "125", "", readings, "today", ShownUnits.Millimetres).Require();
        Assert.True(found.LimitMm >= Math.Abs(found.ErrorMm) + found.ExpandedMm);
    }

    [Theory]
    [InlineData("125", "125.01 125.02", "2 readings show no scatter")]
    [InlineData("125", "125.01 125.02 251.00", "more than 1.0 mm from the block")]
    [InlineData("125", "125.01 125.02 many", "many")]
    [InlineData("125", "125.20 125.21 125.20", "beyond its limit of error")]
    public void What_cannot_be_a_check_is_refused_and_nothing_is_described(string block, string readings, string why)
    {
        var bad = Assert.IsType<Outcome<InstrumentCheck>.Bad>(new CheckInstrument(_journal).Run(Invented.Caliper, block, "", readings, "today", ShownUnits.Millimetres));
        Assert.Contains(why, bad.Problems[0].What, StringComparison.Ordinal);
        Assert.Empty(Ledger.From(_journal.Entries()).Instruments);
    }
}
