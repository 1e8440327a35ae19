using Commission.Core.Instruments;

namespace Commission.Core.Tests.Instruments;

public sealed class DialWayTests
{
    private static Instrument Dial(double? range) => new("dial", InstrumentKind.Indicator, 0.01, 0.01, range, "test");

    [Theory]
    [InlineData(0.8)]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(10)]
    [InlineData(25)]
    public void Press_way_and_reserve_stay_within_the_range_of_the_dial(double range)
    {
        var way = DialWay.Of(Dial(range));

        Assert.True(way.PressMm + way.RoomMm <= range);
        Assert.True(way.BeyondMm < way.RoomMm);
    }

    // metrology 3.7: belts and trapezoidal screws lose 0.05 to 0.3 mm as a rule (common practice); the way to turn round in must be more.
    [Theory]
    [InlineData(1.0)]
    [InlineData(10.0)]
    [InlineData(null)]
    public void The_axis_turns_beyond_by_more_than_it_usually_loses(double? range) => Assert.True(DialWay.Of(Dial(range)).BeyondMm > 0.3);

    [Fact]
    public void A_dial_of_unknown_range_or_none_is_taken_for_a_usual_one() => Assert.Equal([DialWay.Of(Dial(10)), DialWay.Of(Dial(10))], [DialWay.Of(null), DialWay.Of(Dial(null))]);
}
