using System.Collections.Immutable;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;
using Commission.Tests;

namespace Commission.Core.Tests.Motion;

/// <summary>What a box says of STOP before a move, and what is too long to be sent.</summary>
public sealed class AboutStopTests
{
    private const string Worst = "STOP is sent as a line: at worst 3 s until all stands.", Support = "STOP may let the drives go: support Z.";

    [Theory]
    [InlineData("letter-words", new[] { Support, Worst })]
    [InlineData("numbered-settings", new[] { Support })]
    public void Every_box_of_a_move_says_it(string dialect, string[] said)
    {
        var bench = new Bench(dialect: ShippedDialects.Find(dialect)!).Homed();
        Assert.Equal(said, MotionRules.Describe(bench.Gate, Bench.Go(AxisName.Y, -20))[1..]);
        Assert.Equal(said, MotionRules.Describe(bench.Gate, new MotionAct.Home())[2..]);
        Assert.DoesNotContain(MotionRules.Describe(bench.Gate, new MotionAct.Unlock()), said.Contains);
    }

    [Fact]
    public void A_move_whose_line_is_longer_than_the_controller_takes_is_refused()
    {
        var bench = new Bench(dialect: Dialects.Bytes with { LongestLine = 20 }).Homed();
        Assert.Null(MotionRules.WhyNot(bench.Gate, Bench.Go(AxisName.Y, -20)));
        Assert.Equal("the line is 21 characters long, and this controller takes at most 20", MotionRules.WhyNot(bench.Gate, Bench.Go(AxisName.Y, -20.125)));
        bench.Confirms(Bench.Go(AxisName.Y, -20.125));
        Assert.Empty(bench.Sent);
    }
}
