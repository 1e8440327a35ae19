namespace Commission.Core.Tests.Characteristics;

/// <summary>Every kind of the contract is declared, with its columns and parameters.</summary>
public sealed class ContractTests
{
    public static TheoryData<string, string, string> Rows { get; } = new()
    {
        { "axis-scale", "commanded_mm measured_mm direction zero", "scaleError reversal zero" }, // zero: optional, beyond the contract, for runs whose set-up was disturbed
        { "backlash", "place_mm direction reading_mm", "reversal reversalLargest reversal[PLACE] iso.B iso.meanB iso.M iso.E iso.Eup iso.Edown iso.R iso.Rup iso.Rdown iso.A iso.Aup iso.Adown" },
        { "squareness", "x1_mm y1_mm x2_mm y2_mm distance_mm", "squareness scaleErrorX scaleErrorY" },
        { "square-reversal", "setup travel_mm reading_mm", "squareness artefactError" },
        { "plate", "x1_mm y1_mm approach1 x2_mm y2_mm approach2 edges distance_mm", "squareness scaleErrorX scaleErrorY reversalX reversalY holeDiameter" },
        { "tram", "angle_deg reading_mm line position_mm", "tilt tiltX tiltY offset" },
        { "flatness", "x_mm y_mm z_mm", "peakToValley minimumZone rawRange slopeX slopeY" },
        { "runout", "angle_deg reading_mm height_mm", "tir[HEIGHT] tilt offset tirAtTip" },
        { "repeatability", "reading_mm", "standardDeviation expandedNext" },
        { "gauge-study", "object trial reading_mm", "standardDeviation" },
        { "periodic", "commanded_mm measured_mm", "amplitude phase" },
        { "stiffness", "force_n place_mm direction reading_mm", "clearance stiffness" },
        { "speed-ladder", "speed_mm_min offset_mm", "limit quantum" },
        { "test-cut", "axis nominal_mm side measured_mm direction", "scaleErrorX scaleErrorY cutterRadiusError" },
        { "test-circle", "angle_deg turning diameter_mm", "squareness scaleDifference reversalDifference" },
        { "drift", "day value uncertainty change", "level slope extraScatter nextCheckDay" },
        { "event-rate", "hours events", "upperRate rate" },
    };

    // columns: any columns and any predictors, so there is nothing to list.
    [Fact]
    public void Every_kind_is_in_the_table_of_the_contract() =>
        Assert.Equal(CharacteristicKinds.All.Select(kind => kind.Id), Rows.Select(row => row.Data.Item1).Prepend("columns"));

    [Theory]
    [MemberData(nameof(Rows))]
    public void A_kind_has_the_columns_and_parameters_of_the_contract(string id, string columns, string parameters)
    {
        var kind = CharacteristicKinds.Find(id);

        Assert.NotNull(kind);
        Assert.Equal(columns.Split(' '), kind.Columns.Select(c => c.Name));
        foreach (var parameter in parameters.Split(' '))
            Assert.Contains(kind.Parameters, p => p.Name == parameter);
        Assert.Equal(parameters.Split(' ')[0], kind.Parameters[0].Name);
        Assert.All(kind.Columns, c => Assert.NotEmpty(c.Meaning));
    }

    [Theory]
    [InlineData("backlash", "place_mm,direction,reading_mm\n1,+,0\n1,-,.1\n1,+,0.01\n1,-,.11\n")]
    [InlineData("squareness", "x1_mm,y1_mm,x2_mm,y2_mm,distance_mm\n0,0,300,0,300.15\n0,0,0,200,199.9\n0,0,300,200,360.95\n300,0,0,200,360.2\n")]
    [InlineData("square-reversal", "setup,travel_mm,reading_mm\n1,0,0\n1,150,.03\n1,0,.001\n2,0,0\n2,150,.01\n2,150,.012\n")]
    [InlineData("flatness", "x_mm,y_mm,z_mm\n0,0,0\n300,0,.1\n0,300,.2\n300,300,.1\n150,150,.1\n")]
    [InlineData("repeatability", "reading_mm\n1\n1.01\n1.02\n")]
    [InlineData("stiffness", "force_n,place_mm,direction,reading_mm\n0,1,+,0\n0,1,-,.04\n20,1,+,0\n20,1,-,.06\n40,1,+,0\n40,1,-,.07\n")]
    [InlineData("test-cut", "axis,nominal_mm,side,measured_mm\nX,20,outside,20.1\nX,50,outside,50.1\nX,20,inside,19.9\nX,50,inside,49.95\n")]
    public void Without_an_instrument_no_U_is_given_and_the_reason_is(string kind, string csv)
    {
        var finding = Fit.Of(kind, csv, new FitOptions());

        Assert.NotNull(finding.Headline.FreshUncertainty);
        Assert.Null(finding.Headline.ExpandedUncertainty);
        Assert.Null(finding.Headline.SharedUncertainty);
        Assert.Equal("no instrument named", finding.Headline.WhyNoUncertainty);
        Assert.Equal((Verdict.None, AdviceAction.MeasureMore), (finding.Verdict, finding.Advice.Action));
    }

    [Theory]
    [InlineData(0.001, Verdict.Within)]
    [InlineData(0.100, Verdict.Undecided)]
    [InlineData(0.300, Verdict.Outside)]
    public void The_three_zones_are_told_and_undecided_names_a_next_step(double lost, Verdict verdict)
    {
        var h = lost / 2;
        var rows = new[] { 0.004, -0.004, 0.003, -0.003 }.SelectMany(e => new object[][] { [10, "+", -h + e], [10, "-", h - e] });
        var finding = Fit.Of("backlash", Fit.Rows("place_mm,direction,reading_mm", rows), Fit.With(1e-9, "0.1mm"));

        Assert.Equal(verdict, finding.Verdict);
        Assert.Equal(verdict == Verdict.Undecided, finding.Advice.Action == AdviceAction.MeasureMore);
        if (verdict == Verdict.Undecided)
            Assert.NotNull(finding.Advice.Next);
    }

    [Fact]
    public void Shuffling_the_rows_changes_no_number()
    {
        var rows = new[] { "0,0,300,0,300.15", "0,200,300,200,300.21", "0,0,0,200,199.90", "300,0,300,200,199.94", "0,0,300,200,360.95", "300,0,0,200,360.20" };
        const string header = "x1_mm,y1_mm,x2_mm,y2_mm,distance_mm\n";
        var (a, b) = (Fit.Of("squareness", header + string.Join('\n', rows)), Fit.Of("squareness", header + string.Join('\n', rows.Reverse())));

        Assert.Equal(a.Value("squareness"), b.Value("squareness"), 1e-14);
        Assert.Equal(a.U("squareness"), b.U("squareness"), 1e-14);
    }

    [Fact]
    public void Mirroring_X_turns_the_sign_of_squareness_and_nothing_else()
    {
        const string header = "x1_mm,y1_mm,x2_mm,y2_mm,distance_mm\n";
        var plain = Fit.Of("squareness", header + "0,0,300,0,300.15\n0,0,0,200,199.90\n0,0,300,200,360.95\n300,0,0,200,360.20\n");
        var mirrored = Fit.Of("squareness", header + "0,0,-300,0,300.15\n0,0,0,200,199.90\n0,0,-300,200,360.95\n-300,0,0,200,360.20\n");

        Assert.Equal(-plain.Value("squareness"), mirrored.Value("squareness"), 1e-13);
        Assert.Equal(plain.Value("scaleErrorX"), mirrored.Value("scaleErrorX"), 1e-13);
    }

    [Fact]
    public void Pictures_come_from_the_same_readings_as_the_numbers()
    {
        foreach (var (kind, csv) in new[]
        {
            ("backlash", "place_mm,direction,reading_mm\n1,+,0\n1,-,.1\n2,+,0.01\n2,-,.1\n"),
            ("squareness", "x1_mm,y1_mm,x2_mm,y2_mm,distance_mm\n0,0,300,0,300.15\n0,0,0,200,199.9\n0,0,300,200,360.95\n300,0,0,200,360.2\n"),
            ("flatness", "x_mm,y_mm,z_mm\n0,0,0\n300,0,.1\n0,300,.2\n300,300,.1\n150,150,.1\n"),
            ("runout", "angle_deg,reading_mm,height_mm\n0,0,5\n90,.01,5\n180,.02,5\n270,.01,5\n"),
        })
        {
            var declared = CharacteristicKinds.Find(kind)!;
            var table = Commission.Core.Readings.CsvReadings.Read("t.csv", csv, declared.Columns).Require();
            var figure = declared.Picture(declared.Evaluate(table, Fit.With()).Require(), table);

            Assert.NotNull(figure);
            Assert.NotEmpty(figure.Layers);
            Assert.NotEmpty(figure.Summary);
        }
    }
}
