using System.Globalization;
using Commission.Core.Instruments;
using Commission.Core.Plans;
using Commission.Core.Quantities;

namespace Commission.Core.Tests.Characteristics;

/// <summary>What a finding asks first where a single reading cannot be what it seems, and what it says about readings no instrument of that size gives.</summary>
public sealed class SuspectsFirstTests
{
    private static readonly Instrument Caliper = InstrumentCatalogue.Find("caliper-150")!;

    private static readonly string[] Twelve =
    [
        "20,20.02,+", "20,20.07,-", "60,60.01,+", "60,60.06,-", "100,100.01,+", "100,100.07,-",
        "140,140.02,+", "140,140.06,-", "100,100.02,+", "100,100.05,-", "20,20.01,+", "20,20.06,-",
    ];

    private static FitOptions Options => new() { Instrument = Caliper, Tolerance = ToleranceText.Parse("300ppm").Require() };

    private static string Csv(IEnumerable<string> rows) => "commanded_mm,measured_mm,direction\n" + string.Join("\n", rows);

    [Fact]
    public void A_tenfold_reading_is_looked_at_before_any_more_are_taken()
    {
        var slipped = Fit.Of("axis-scale", Csv(Twelve.Select((row, i) => i == 4 ? "100,1000.1,+" : row)), Options);
        Assert.Contains(slipped.Suspects, suspect => suspect.Row == 5 && suspect.Suggestion.Contains("100.01", StringComparison.Ordinal));
        var named = NextStep.Named(slipped, Options, null, [Caliper], 140);
        Assert.StartsWith("Look at reading 5 first: take it again, or leave it out with the reason.", named.Advice.Next, StringComparison.Ordinal);
        Assert.DoesNotContain("more", named.Advice.Next, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_slips_are_named_together()
    {
        var slipped = Fit.Of("axis-scale", Csv(Twelve.Select((row, i) => i == 4 ? "100,101.01,+" : i == 7 ? "140,130.06,-" : row)), Options);
        Assert.StartsWith("Look at readings 5 and 8 first: take them again", slipped.Advice.Next, StringComparison.Ordinal);
    }

    [Fact]
    public void A_wrong_ratio_names_its_cause_before_a_reading_that_cannot_have_made_it()
    {
        string[] twice = ["20,54.69,+", "60,134.70,+", "100,214.72,+", "100,214.72,+", "60,134.70,+", "20,54.68,+", "60,134.78,+", "100,214.71,+"];
        var found = Fit.Of("axis-scale", Csv(twice), Options);
        Assert.Contains(found.Suspects, suspect => suspect.Row == 7);
        Assert.Equal(AdviceAction.FindTheFault, found.Advice.Action);
        Assert.StartsWith("Look first at this:", found.Advice.Next, StringComparison.Ordinal);
    }

    [Fact]
    public void A_wrong_ratio_that_one_reading_has_made_sends_to_that_reading()
    {
        var slipped = Fit.Of("axis-scale", Csv(Twelve.Select((row, i) => i == 7 ? "140,150.06,-" : row)), Options);
        Assert.Contains("wrong number", slipped.Advice.Because, StringComparison.Ordinal);
        Assert.StartsWith("Look at reading 8 first", slipped.Advice.Next, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("60,60.51,+", 7)]
    [InlineData("60,87.01,+", 7)]
    [InlineData("60,60.51,+", null)]
    public void Nothing_is_left_and_nothing_changed_upon_a_reading_that_does_not_fit(string slip, int? grade)
    {
        var options = Options with { Drive = DriveKind.Screw, ScrewGrade = grade, StepsPerMm = 320 };
        var slipped = Fit.Of("axis-scale", Csv(Twelve.Select((row, i) => i == 2 ? slip : row)), options);
        Assert.Contains(slipped.Suspects, suspect => suspect.Row == 3);
        Assert.Equal(AdviceAction.MeasureMore, slipped.Advice.Action);
        Assert.Null(slipped.Advice.Setting);
        Assert.StartsWith("Look at reading 3 first", slipped.Advice.Next, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_a_suspect_the_next_step_is_the_usual_one() =>
        Assert.DoesNotContain("Look at reading", Fit.Of("axis-scale", Csv(Twelve), Options).Advice.Next ?? "", StringComparison.Ordinal);

    [Fact]
    public void Lengths_beyond_the_range_of_the_instrument_are_named_in_a_remark()
    {
        string[] rows = ["20,20.01,+", "120,120.03,+", "220,220.02,+", "300,300.04,+", "400,400.03,+", "20,20.02,+"];
        var remark = Assert.Single(Fit.Of("axis-scale", Csv(rows), Options).Remarks, said => said.StartsWith("More than", StringComparison.Ordinal));
        Assert.StartsWith("More than caliper-150 can read, 150 mm: readings 3, 4 and 5.", remark, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(null, InstrumentKind.CaliperDigital)]
    [InlineData(600.0, InstrumentKind.CaliperDigital)]
    [InlineData(10.0, InstrumentKind.Indicator)]
    public void Nothing_is_said_where_the_range_reaches_or_is_not_known_or_is_that_of_a_dial(double? range, InstrumentKind kind)
    {
        var options = Options with { Instrument = Caliper with { RangeMm = range, Kind = kind } };
        Assert.DoesNotContain(Fit.Of("axis-scale", Csv(Twelve), options).Remarks, said => said.Contains("can read", StringComparison.Ordinal));
    }

    [Fact]
    public void A_row_read_with_another_instrument_is_not_measured_by_the_range_of_this_one()
    {
        string[] rows = ["20,20.01,+,", "120,120.03,+,", "220,220.02,+,tape", "300,300.04,+,caliper-150", "60,60.03,+,", "20,20.02,+,"];
        var found = Fit.Of("axis-scale", "commanded_mm,measured_mm,direction,instrument\n" + string.Join("\n", rows), Options);
        Assert.Contains(found.Remarks, said => said.Contains("can read, 150 mm: reading 4.", StringComparison.Ordinal));
    }

    [Fact]
    public void Readings_that_scatter_by_far_more_than_caliper_and_hand_are_a_fault_to_find_and_no_axis_to_leave_alone()
    {
        // Half of the rows 2.5 mm off to either side, as no instrument scatters.
        double[] off = [0, 0, 0, 0, 0, 2.5, -2.4, -2.6, 2.4, 0.1, 0, 0];
        var loose = Fit.Of("axis-scale", Csv(Twelve.Select((row, i) => row.Split(',') is var cells ? FormattableString.Invariant($"{cells[0]},{double.Parse(cells[1], CultureInfo.InvariantCulture) + off[i]:0.00},{cells[2]}") : "")), Options with { Drive = DriveKind.Screw });

        Assert.DoesNotContain(loose.Suspects, suspect => suspect.Row > 0);
        Assert.Equal(Verdict.Undecided, loose.Verdict);
        Assert.Equal(AdviceAction.FindTheFault, loose.Advice.Action);
        Assert.Matches(@"^The readings scatter by 1\.\d mm; .* in a hand does by 0\.022 mm\.", loose.Advice.Because);
        Assert.Matches("^Look at readings [67], [78](, | and )", loose.Advice.Next);
        Assert.Equal(AdviceAction.Leave, Fit.Of("axis-scale", Csv(Twelve), Options with { Drive = DriveKind.Screw }).Advice.Action);
    }

    [Theory]
    [InlineData(0.02, 0)]
    [InlineData(0.035, 8)]
    public void A_clean_set_of_a_usual_or_a_careless_hand_is_no_fault_to_find(double hand, int most)
    {
        // Own simulation, fixed seed; 0.035 mm is the careless hand of the population.
        var random = new Random(11);
        double Off() => hand * StandardNormal.Quantile((random.NextDouble() * (1 - 2e-12)) + 1e-12);
        var faults = Enumerable.Range(0, 400).Count(_ => Fit.Of("axis-scale", Csv(Twelve.Select(row => row.Split(',') is var cells ? FormattableString.Invariant($"{cells[0]},{double.Parse(cells[0], CultureInfo.InvariantCulture) + Off():0.00},{cells[2]}") : "")), Options)
            .Advice.Because.StartsWith("The readings scatter", StringComparison.Ordinal));
        Assert.InRange(faults, 0, most);
    }

    [Fact]
    public void One_last_digit_of_a_tape_is_no_reading_that_does_not_fit()
    {
        var tape = new Instrument("tape", InstrumentKind.Tape, 0.7, 0.5, 3000, "invented");
        const string header = "x1_mm,y1_mm,x2_mm,y2_mm,distance_mm\n";
        string[] rows = ["0,0,300,0,300.0", "0,0,300,0,300.0", "0,0,300,400,500.0", "0,0,300,400,500.0", "300,0,0,400,500.0", "300,0,0,400,500.0", "0,0,0,400,400.0", "0,0,0,400,400.5"];

        Assert.Empty(Fit.Of("squareness", header + string.Join('\n', rows), new FitOptions { Instrument = tape }).Suspects);
        Assert.Contains(Fit.Of("squareness", header + string.Join('\n', rows[..7]) + "\n0,0,0,400,409.5", new FitOptions { Instrument = tape }).Suspects, suspect => suspect.Row == 8);
    }
}
