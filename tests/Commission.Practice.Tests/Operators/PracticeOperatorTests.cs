using Commission.Practice.Instruments;
using Commission.Practice.Operators;

namespace Commission.Practice.Tests.Operators;

public sealed class PracticeOperatorTests
{
    private static PracticeOperator Person(double sd = 0, double slips = 0, ulong seed = 1) => new(
        new Hand { Name = "test", ReadingSdMm = sd, SlipRate = slips }, SlipHabits.Usual, new DrawSource(seed));

    private static PracticeInstrument Perfect { get; } = new()
    {
        Name = "perfect", LimitMm = 0.03, ResolutionMm = 0.01, RangeMm = 150, Error = new ErrorCurve(0, 150),
    };

    [Fact]
    public void A_reading_is_rounded_to_the_last_digit_and_typed_with_its_decimals()
    {
        Assert.Equal("20.01", PracticeOperator.Typed(Person().Caliper(Perfect, 20.0134), 0.01));
        Assert.Equal("0.00", PracticeOperator.Typed(-0.001, 0.01));
        Assert.Equal("721.1", PracticeOperator.Typed(721.0999, 0.1));
    }

    [Fact]
    public void A_long_run_of_readings_shows_the_hand_s_scatter()
    {
        var person = Person(sd: 0.02);
        var readings = Enumerable.Range(0, 4000).Select(_ => person.Caliper(Perfect, 100) - 100).ToArray();
        var mean = readings.Average();
        var deviation = Math.Sqrt(readings.Sum(r => (r - mean) * (r - mean)) / (readings.Length - 1));
        // sqrt(0.02^2 + 0.01^2/12) = 0.02021, five standard errors are 5.6 %.
        Assert.InRange(deviation, 0.02021 * 0.944, 0.02021 * 1.056);
    }

    [Fact]
    public void Slips_come_at_the_stated_rate()
    {
        var person = Person(slips: 0.03);
        for (var i = 0; i < 20_000; i++)
            person.Caliper(Perfect, 57.31);
        Assert.InRange(person.Slips, 600 - 121, 600 + 121); // five standard errors
    }

    [Fact]
    public void The_error_of_a_caliper_stays_within_its_largest_error_and_is_zero_when_closed()
    {
        var curve = new ErrorCurve(0.03, 150, 0.5, 2, 1.1);
        Assert.Equal(0, curve.At(0), 1e-15);
        for (var length = 0.0; length <= 150; length += 0.5)
            Assert.InRange(Math.Abs(curve.At(length)), 0, 0.03 + 1e-12);
    }
}
