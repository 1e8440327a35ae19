using Commission.Core.Characteristics;

namespace Commission.App.Tests.Screens;

/// <summary>A procedure that is named on the command line: the screens open on its route card.</summary>
public sealed class StartAtTests : KnownScreens
{
    [Fact]
    public void The_route_card_stands_there_and_S_begins_with_what_was_named()
    {
        Journal.Append(new EntryBody.InstrumentDescribed(Core.Instruments.InstrumentCatalogue.Find("caliper-300")! with { Name = "the long one" }, Retired: false)).Require();
        using var window = At(start => start with { Instrument = "the long one", Tolerance = new Tolerance(0.003, "1", "3000ppm") { From = LimitFrom.Request } });
        Assert.StartsWith(" PRACTICE  Heron / work / scale X ", window.Rows[0], StringComparison.Ordinal);
        Assert.Contains("With    the long one", window.Text, StringComparison.Ordinal);
        window.Type("s");
        var begun = Ledger.Runs.Values.Last().Started.Body;
        Assert.Equal(("axis-scale", "X", "the long one"), (begun.Procedure, begun.Axis, begun.Instrument));
    }

    [Fact]
    public void A_run_that_was_left_is_asked_about_and_begun_anew_only_where_that_was_said()
    {
        Story.BreakOff(Journal, Clock, 3);
        using (var window = At(start => start))
            Assert.Contains("/ unfinished", window.Rows[0], StringComparison.Ordinal);
        using var anew = At(start => start with { Anew = true });
        Assert.Contains("/ work / scale X", anew.Rows[0], StringComparison.Ordinal);
        Assert.DoesNotContain("S goes on with it", anew.Text, StringComparison.Ordinal);
    }

    private Headless At(Func<ScreenStart, ScreenStart> with)
    {
        var options = KnownMachine.Options(Journal, "axis-scale", "readiness");
        return On(options with { Start = with(new ScreenStart(options.Procedures.First(procedure => procedure.Id == "axis-scale"), AxisName.X)) });
    }
}
