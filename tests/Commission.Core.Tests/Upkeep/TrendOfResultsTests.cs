using Commission.Core.History;
using Commission.Core.Reports;
using Commission.Core.Tests.History;
using Commission.Core.Upkeep;

namespace Commission.Core.Tests.Upkeep;

public sealed class TrendOfResultsTests
{
    private static readonly DateTimeOffset Start = new(2031, 4, 11, 9, 0, 0, TimeSpan.Zero);

    private static readonly ResultKey Key = new("Heron", "backlash", "Y");

    private static readonly Machine Heron = new() { Name = "Heron", TravelMm = [420, 580, 90] };

    private static (double Day, EntryBody Body) At(double day, double lostMotion, string instrument = "dial", double shared = 0.004, string? limit = "0.08mm")
    {
        var made = LedgerTests.Found("backlash", "Y");
        return (day, made with
        {
            Instrument = instrument,
            Finding = made.Finding with
            {
                Kind = "backlash",
                Parameters = [new FittedParameter { Name = "reversal", Unit = "mm", Value = -lostMotion, FreshUncertainty = 0.002, SharedUncertainty = shared, ExpandedUncertainty = 0.012, CoverageFactor = 2 }],
            },
            Options = new FitOptions { Tolerance = limit is null ? null : ToleranceText.Parse(limit).Require() },
        });
    }

    private static (double Day, EntryBody Body) Change(double day, string word) => (day, new EntryBody.ChangeTold(word, "Y", "") { Machine = "Heron" });

    private static UpkeepFold Fold(params (double Day, EntryBody Body)[] told)
    {
        var entries = LedgerTests.Chain([new EntryBody.MachineDescribed(Heron, false) { Machine = "Heron" }, .. told.Select(one => one.Body)]);
        return UpkeepFold.From(entries.Select((entry, at) => at < entries.Length - told.Length ? entry : entry with { At = Start.AddDays(told[at - entries.Length + told.Length].Day) }));
    }

    private static TrendView View(params (double Day, EntryBody Body)[] told) => TrendOfResults.Of(Fold(told), Key)!;

    private static (double Day, EntryBody Body)[] Wearing =>
    [
        At(0, 0.118), Change(1, "drive-part-replaced"), At(2, 0.050), At(30, 0.052), At(61, 0.055), At(92, 0.057), At(122, 0.059), Change(140, "crash"), At(150, 0.062), At(183, 0.064),
    ];

    [Fact]
    public void Wear_after_a_new_part_is_a_drift_of_the_new_baseline_and_the_crash_no_step()
    {
        var view = View(Wearing);
        Assert.Equal([1, 2, 2, 2, 2, 2, 2, 2], view.Points.Select(point => point.Epoch));
        Assert.Equal(0.118, view.Points[0].Value);
        Assert.True(view.Slope is { Significant: true, Results: 7 });
        Assert.InRange(view.Slope.PerMonth, 0.0021, 0.0025);
        Assert.Equal("It drifts since \"Nut, coupling or bearing replaced\" of 12 Apr 2031, beyond the scatter of the results.", view.Changed);
        Assert.Contains(view.Remarks, remark => remark.StartsWith("Crash, or motion was blocked: no step: ", StringComparison.Ordinal));
        Assert.Equal([true, false], view.Events.Select(change => change.BeginsBaseline));
        Assert.Equal("at most twice the last gap of 33 days", view.NextBecause);
        Assert.Equal(Start.AddDays(183 + 66), view.NextCheck);
    }

    [Fact]
    public void Results_that_only_scatter_have_not_changed()
    {
        var view = View(At(0, 0.050), At(30, 0.052), At(60, 0.049), At(90, 0.051), At(120, 0.050));
        Assert.Equal("No change since the first result of 11 Apr 2031 beyond the scatter of the results.", view.Changed);
        Assert.False(view.Slope!.Significant);
    }

    [Fact]
    public void One_result_says_nothing_about_change()
    {
        Assert.StartsWith("One result since the first result", View(At(0, 0.05)).Changed, StringComparison.Ordinal);
        Assert.StartsWith("One result since \"Nut", View(At(0, 0.05), Change(3, "drive-part-replaced"), At(9, 0.02)).Changed, StringComparison.Ordinal);
    }

    [Fact]
    public void A_shock_is_an_alarm_at_its_result()
    {
        var view = View(At(0, 0.050), At(30, 0.052), At(60, 0.050), At(90, 0.250));
        Assert.Equal([false, false, false, true], view.Points.Select(point => point.Alarm));
        Assert.StartsWith("Something changed", view.Changed, StringComparison.Ordinal);
        Assert.Contains(view.Remarks, remark => remark.StartsWith("Alarm on 10 Jul 2031", StringComparison.Ordinal));
    }

    // Two instruments whose limits allow 0.03 mm between them: the level stays. Were their limits narrow, the same readings would be a shock.
    [Fact]
    public void Another_instrument_is_an_offset_as_wide_as_both_are_known()
    {
        var wide = View(At(0, 0.050), At(30, 0.050), At(60, 0.050), At(90, 0.080, "gauge", shared: 0.03), At(120, 0.080, "gauge", shared: 0.03));
        Assert.InRange(wide.Points[^1].Level!.Value, 0.045, 0.056);
        Assert.DoesNotContain(wide.Points, point => point.Alarm);
        Assert.Contains(wide.Remarks, remark => remark.StartsWith("Another instrument from 10 Jul 2031", StringComparison.Ordinal));
        Assert.Equal("the instrument was changed within this epoch", wide.WhyNoSlope);
        var narrow = View(At(0, 0.050, shared: 0.001), At(30, 0.050, shared: 0.001), At(60, 0.050, shared: 0.001), At(90, 0.080, "gauge", shared: 0.001));
        Assert.True(narrow.Points[^1].Alarm);
        var back = View(At(0, 0.050), At(30, 0.050), At(60, 0.080, "gauge", shared: 0.03), At(90, 0.080));
        Assert.True(back.Points[^1].Alarm);
    }

    [Fact]
    public void Without_a_limit_no_day_is_named()
    {
        var view = View(At(0, 0.05, limit: null), At(30, 0.05, limit: null));
        Assert.Null(view.NextCheck);
        Assert.Equal("without a limit no day can be named", view.NextBecause);
        Assert.Empty(view.Forecast);
    }

    // Without a limit of its own a series is held against the machine's class of work, and says so.
    [Fact]
    public void A_series_without_a_limit_takes_that_of_the_class_of_work()
    {
        var limits = new WorkLimits(AcceptanceClasses.Shipped, WorkClass.Plastics);
        var fold = Fold(At(0, 0.05, limit: null), At(30, 0.05, limit: null));
        var view = TrendOfResults.Of(fold, Key, limits)!;
        Assert.Equal((0.08, "class of work: plastics"), (view.Limit!.Value, view.LimitOfClass));
        Assert.NotNull(view.NextCheck);
        Assert.Contains(TrendText.Told(view), told => told.StartsWith("Limit: ", StringComparison.Ordinal) && told.Contains("0.080 mm (none was given; class of work: plastics)", StringComparison.Ordinal));

        // A limit that was given stands; one of another class gives way to that of the class now.
        Assert.Equal((0.2, null), TrendOfResults.Of(Fold(At(0, 0.05, limit: "0.2mm")), Key, limits) is { } given ? (given.Limit!.Value, given.LimitOfClass) : default);
        var (day, body) = At(0, 0.05);
        var old = (EntryBody.FindingMade)body with { Options = new FitOptions { Tolerance = AcceptanceClasses.Shipped.For("backlash", WorkClass.Wood) } };
        Assert.Equal(0.08, TrendOfResults.Of(Fold((day, old)), Key, limits)!.Limit!.Value);
    }

    [Fact]
    public void The_class_of_work_makes_a_result_due_as_its_trend_says()
    {
        var fold = Fold(At(0, 0.05, limit: null), At(30, 0.05, limit: null));
        var plastics = Heron with { Class = WorkClass.Plastics };
        Assert.Equal(TrendOfResults.Of(fold, Key, new WorkLimits(AcceptanceClasses.Shipped, WorkClass.Plastics))!.NextCheck, new MachineUpkeep(fold, plastics, Start.AddDays(40)).State(Key).DueAt);
    }

    // 0.2 mm over 600 mm are 333 ppm; shown as finely as the results are known.
    [Fact]
    public void A_limit_in_mm_holds_for_a_ratio_over_the_length_it_was_taken_over()
    {
        var made = LedgerTests.Found("axis-scale", "X");
        made = made with
        {
            Options = new FitOptions { Tolerance = ToleranceText.Parse("0.2mm").Require() },
            Finding = made.Finding with
            {
                Kind = "axis-scale",
                Limit = 0.2 / 600,
                LimitOverMm = 600,
                Parameters = [new FittedParameter { Name = "scaleError", Unit = "1", Value = 1e-4, FreshUncertainty = 5e-5, ExpandedUncertainty = 1.2e-4, CoverageFactor = 2 }],
            },
        };
        var view = TrendOfResults.Of(Fold((0, made), (30, made)), new ResultKey("Heron", "axis-scale", "X"))!;
        Assert.Equal(0.2 / 600, view.Limit!.Value, 1e-15);
        Assert.Contains(TrendText.Told(view), told => told.Contains("333 ppm", StringComparison.Ordinal) && !told.Contains("333.3", StringComparison.Ordinal));
        Assert.True(view.IsSigned);
        Assert.False(View(At(0, 0.05)).IsSigned);
    }

    [Fact]
    public void Results_of_one_sitting_are_no_interval() =>
        Assert.DoesNotContain("the last gap", View(At(0, 0.050), At(0.01, 0.050)).NextBecause, StringComparison.Ordinal);

    [Fact]
    public void The_day_of_the_trend_makes_a_result_due()
    {
        var fold = Fold([.. Wearing]);
        Assert.Equal(Standing.Fresh, new MachineUpkeep(Fold([.. Wearing[2..7], At(183, 0.064)]), Heron, Start.AddDays(240)).State(Key).Standing);
        var due = new MachineUpkeep(Fold([.. Wearing[2..7], At(152, 0.060)]), Heron, Start.AddDays(240)).State(Key);
        Assert.Equal((Standing.Due, Start.AddDays(152 + 60)), (due.Standing, due.DueAt));
        Assert.Contains("due since 9 Nov 2031: at most twice the last gap of 30 days", due.Reasons.Select(reason => reason.Because));
        Assert.NotNull(TrendOfResults.Of(fold, Key));
    }

    // Homing is one piece of work, and each axis returns with a scatter of its own.
    [Fact]
    public void What_is_found_axis_by_axis_for_the_whole_machine_has_a_series_for_each_axis_and_one_state()
    {
        (double, EntryBody) Homed(double day, string axis, double value)
        {
            var made = (EntryBody.FindingMade)At(day, -value).Body;
            return (day, made with { Characteristic = "repeatability", Axis = axis, Finding = made.Finding with { Kind = "repeatability" } });
        }

        var homed = Heron with { X = new() { Switches = Switches.Home } };
        var fold = Fold(Homed(0, "X", 0.01), Homed(0.1, "Y", 0.05), Homed(90, "X", 0.011), Homed(90.1, "Y", 0.051));
        foreach (var axis in (string[])["X", "Y"])
            Assert.Equal(2, TrendOfResults.Of(fold, new ResultKey("Heron", "homing", axis))!.Points.Length);
        Assert.Null(TrendOfResults.Of(fold, new ResultKey("Heron", "homing")));
        var state = new MachineUpkeep(fold, homed, Start.AddDays(100)).State(new ResultKey("Heron", "homing"));
        Assert.Equal((Standing.Fresh, Start.AddDays(90.1)), (state.Standing, state.MeasuredAt));
    }

    [Fact]
    public void What_it_says_names_drift_changes_limit_and_the_next_look()
    {
        var told = TrendText.Told(View(Wearing)).ToList();
        Assert.All(told, line => Assert.EndsWith(".", line, StringComparison.Ordinal));
        foreach (var begin in (string[])["Now: 0.06", "Drifts: +0.0023", "Crash: ", "Limit: the line meets 0.080 mm about ", "Look again by 16 Dec 2031: at most twice the last gap of 33 days."])
            Assert.Single(told, line => line.StartsWith(begin, StringComparison.Ordinal));
    }

    [Fact]
    public void A_remark_stands_under_the_word_of_its_kind_and_a_question_ends_as_one()
    {
        var told = TrendText.Told(View(Wearing) with { Remarks = ["Alarm on 10 Jul 2031: this does not follow. What happened then?", "Another instrument from 10 Jul 2031 on: its offset is estimated.", "Bolts tightened: no step."] }).ToList();
        Assert.Equal(["Alarm: 10 Jul 2031: this does not follow. What happened then?", "Kit: Another instrument from 10 Jul 2031 on: its offset is estimated.", "Tested: Bolts tightened: no step."], told.Skip(told.FindIndex(line => line.StartsWith("Alarm", StringComparison.Ordinal))).Take(3));
    }

    [Fact]
    public void The_picture_has_the_band_the_bars_the_changes_and_the_bounds()
    {
        var figure = TrendFigure.Of(View(Wearing));
        Assert.Equal((0, 0.08), figure.Layers.OfType<FigureLayer.Band>().Select(band => (band.Low, band.High)).Single());
        Assert.All(figure.Layers.OfType<FigureLayer.Points>().Single().Values, point => Assert.Equal(0.012, point.Bar));
        Assert.Equal(["Nut, coupling or bearing replaced (new epoch)", "Crash, or motion was blocked", "look again"], figure.Layers.OfType<FigureLayer.Event>().Select(mark => mark.Name));
        Assert.Equal(["filtered level", "to come, upper bound", "to come, lower bound"], figure.Layers.OfType<FigureLayer.Line>().Select(line => line.Name));
        Assert.Contains("It drifts", figure.Summary, StringComparison.Ordinal);
    }

    // Found by use: the chart named a day a year away, bench and report half a year.
    [Fact]
    public void The_day_to_look_again_is_no_later_than_that_of_bench_and_report()
    {
        var fold = Fold(At(0, 0.050), At(300, 0.050));
        var upkeep = new MachineUpkeep(fold, Heron, Start.AddDays(300));
        var view = TrendOfResults.Of(fold, Key)!.By(upkeep);
        Assert.Equal(Start.AddDays(300 + 182), view.NextCheck);
        Assert.Equal("never later than half a year", view.NextBecause);
        Assert.All(view.Forecast, ahead => Assert.True(ahead.At <= view.NextCheck));
        Assert.Equal(upkeep.State(Key).DueAt, view.NextCheck);
    }

    // Found by use: "may be passed already" of a result that lies four times its U behind the limit.
    [Fact]
    public void A_last_result_beyond_the_limit_is_said_to_be_beyond_it()
    {
        var view = View(At(0, 0.050), At(30, 0.130));
        Assert.True(view.IsBeyond);
        Assert.Contains("Limit: the last result lies beyond 0.080 mm.", TrendText.Told(view));
        Assert.False(View(At(0, 0.050), At(30, 0.085)).IsBeyond);
    }
}
