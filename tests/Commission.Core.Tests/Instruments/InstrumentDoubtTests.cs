using Commission.Core.Instruments;

namespace Commission.Core.Tests.Instruments;

/// <summary>What is told of an instrument is held against the catalogue: a point in the wrong place is asked about.</summary>
public sealed class InstrumentDoubtTests
{
    // Limits and digits of the catalogue: DIN 862 for calipers, JIS B 7503 for indicators, 2014/32/EU for tapes.
    [Theory]
    [InlineData("caliper-150", 0.3, 0.03)]
    [InlineData("caliper-150", 0.003, 0.03)]
    [InlineData("caliper-150", 0.762, 0.03)]
    [InlineData("caliper-150", 4, 0.04)]
    [InlineData("indicator-10", 0.15, 0.015)]
    [InlineData("tape-class-2-1m", 0.05, 0.5)]
    [InlineData("caliper-150", 0.2, 0.02)]
    public void A_limit_far_from_its_like_is_asked_about_with_what_a_slip_explains(string like, double told, double meant) =>
        Assert.Equal(meant, InstrumentDoubt.AboutLimit(InstrumentCatalogue.Find(like)!.Kind, like, told)!.MeantMm!.Value, 6);

    [Theory]
    [InlineData("caliper-150", 0.02)]
    [InlineData("caliper-150", 0.15)]
    [InlineData("caliper-150", 0.0254)]
    [InlineData("caliper-150", null)]
    [InlineData("square-150", 0.1)]
    public void What_may_be_so_and_what_nobody_knows_is_not(string like, double? told) =>
        Assert.Null(InstrumentDoubt.AboutLimit(InstrumentCatalogue.Find(like)!.Kind, like, told));

    [Fact]
    public void The_reason_names_both_numbers()
    {
        Assert.Equal("a limit of error of 0.3 mm is far above that of its like: 0.03 mm", InstrumentDoubt.AboutLimit(InstrumentKind.CaliperDigital, "caliper-150", 0.3)!.Reason);
        Assert.Equal("a last digit of 0.1 mm is far above that of its like: 0.01 mm", InstrumentDoubt.AboutDigit(InstrumentKind.CaliperDigital, "caliper-150", 0.1)!.Reason);
        Assert.Equal("a limit of error of 0.3 mm is far above that of its like: 0.03 to 0.05 mm", InstrumentDoubt.AboutLimit(InstrumentKind.CaliperDigital, null, 0.3)!.Reason);
    }

    [Fact]
    public void In_inches_the_reason_is_told_in_inches() =>
        Assert.Equal("a limit of error of 0.012 in is far above that of its like: 0.00118 in", InstrumentDoubt.AboutLimit(InstrumentKind.CaliperDigital, "caliper-150", 0.3048, Commission.Core.Quantities.ShownUnits.Inches)!.Reason);

    [Fact]
    public void No_row_of_the_catalogue_is_doubted_and_of_a_kind_without_rows_nothing_is_known()
    {
        Assert.All(InstrumentCatalogue.All, row => Assert.Empty(InstrumentDoubt.Among(row.Instrument, row.Id)));
        Assert.All(InstrumentCatalogue.All, row => Assert.Empty(InstrumentDoubt.Among(row.Instrument, null)));
        Assert.Null(InstrumentDoubt.AboutLimit(InstrumentKind.Other, null, 40));
    }

    [Theory]
    [InlineData(0.01, 0.0005)]
    [InlineData(0.05, 0.001)]
    [InlineData(0.5, 1.0 / 64)]
    [InlineData(1, 1.0 / 32)]
    public void In_inches_an_instrument_shows_a_step_of_an_inch(double mm, double inches) => Assert.Equal(inches, LastDigit.UsualInches(mm));
}
