using Commission.Core.Motion;
using Commission.Practice.Controller;
using Commission.Workshop.Controllers;

namespace Commission.Workshop.Tests.Controllers;

public class ControllerLinkTests
{
    public static TheoryData<string> Shipped => [.. ShippedDialects.Names];

    [Theory]
    [MemberData(nameof(Shipped))]
    public async Task A_confirmed_move_ends_at_rest_where_it_leads(string dialect)
    {
        await using var bench = await LinkBench.HomedAsync(dialect);
        Assert.IsType<MotionEnd.Reached>(await bench.GoAsync(new MotionAct.Go([new(AxisName.X, -25, 1200)], 1200)));
        Assert.Equal(394, bench.Board.Body.InTravel(AxisName.X), 2);
        Assert.Equal(394, bench.Link.Now.Gate.InTravel!.Value.X, 2);
        Assert.Equal(TrustState.Homed, bench.Link.Now.Gate.State);
        Assert.DoesNotContain(bench.Board.Taken.Where(line => !line.StartsWith("M1", StringComparison.Ordinal)), DialectWords.Forbidden);
    }

    [Theory]
    [MemberData(nameof(Shipped))]
    public async Task A_wrong_token_moves_nothing(string dialect)
    {
        await using var bench = await LinkBench.HomedAsync(dialect);
        bench.Link.Ask(new MotionAct.Go([new(AxisName.X, -25, 1200)], 1200)).Require();
        Assert.IsType<MotionEnd.NotBegun>(await bench.Link.ConfirmAsync("go X+25", TestContext.Current.CancellationToken));
        Assert.Equal(419, bench.Board.Body.InTravel(AxisName.X), 2);
    }

    [Theory]
    [MemberData(nameof(Shipped))]
    public async Task Stop_ends_the_move_and_takes_trust_away(string dialect)
    {
        await using var bench = await LinkBench.HomedAsync(dialect, scale: 1);
        var going = bench.GoAsync(new MotionAct.Go([new(AxisName.Y, -200, 2400)], 2400));
        await bench.UntilAsync(now => now.Gate.Report?.Shown?.Y < -3 || now.Gate.Underway is { Accepted: true });
        bench.Link.Stop("the operator pressed STOP");
        var end = Assert.IsType<MotionEnd.Stopped>(await going);
        Assert.Contains("STOP", end.Why);
        Assert.Equal(TrustState.Stopped, bench.Link.Now.Gate.State);
        await bench.UntilAsync(_ => !bench.Board.Body.Moving);
        Assert.True(bench.Board.Body.InTravel(AxisName.Y) > 450);
    }

    [Theory]
    [MemberData(nameof(Shipped))]
    public async Task Settings_are_listed_written_and_read_back(string dialect)
    {
        await using var bench = await LinkBench.OpenAsync(dialect);
        await bench.UntilAsync(now => now.State is ControllerState.Resting or ControllerState.Locked);
        var cancellation = TestContext.Current.CancellationToken;
        var before = (await bench.Link.SettingsAsync(cancellation)).Require();
        Assert.Equal(bench.Link.Dialect.Settings.Known.Length, before.Length);
        var setting = bench.Link.Dialect.Settings.Find("stepsPerMm", AxisName.Y)!;
        Assert.Equal(320, before.First(one => one.Key == setting.Key).Value);
        var read = (await bench.Link.WriteAsync(setting, "319.6", cancellation)).Require();
        Assert.Equal(319.6, read.Value!.Value, 2);
        Assert.Equal(read.Text, bench.Board.Setting(setting.Key));
        Assert.Equal(TrustState.Stopped, bench.Link.Now.Gate.State);
    }

    [Fact]
    public async Task A_board_that_does_not_answer_is_a_problem_with_a_remedy()
    {
        var dialect = ShippedDialects.Find("numbered-settings")!;
        var board = new PracticeController(dialect, new ControllerBody([420, 580, 90], [200, 300, 60]));
        board.Inject(ControllerFault.Silence);
        var wire = new PracticeStream(board, TimeProvider.System);
        var opened = await ControllerLink.OpenAsync(new StreamTransport(wire), dialect, LinkBench.Facts, TimeProvider.System, TestContext.Current.CancellationToken);
        var problem = Assert.Single(Assert.IsType<Outcome<ControllerLink>.Bad>(opened).Problems);
        Assert.Contains("nothing that fits", problem.What);
        Assert.Contains("procedure show silent-board --handbook", problem.Remedy);
    }
}
