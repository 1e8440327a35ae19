using System.Collections.Immutable;
using Commission.Core.Instruments;
using Commission.Core.Readings;

namespace Commission.Proof.Harm;

/// <summary>The program's plan for one axis: ten caliper readings, its advice followed, questioned readings taken again.</summary>
internal static class AxisPlan
{
    /// <summary>Ten readings for each axis; the advice alone decides.</summary>
    public static void FollowAdvice(Scene scene)
    {
        foreach (var axis in Rivals.PlaneAxes)
        {
            Rivals.MendGrossRatio(scene, axis);
            Once(scene, axis, secondLook: true);
        }
    }

    private static void Once(Scene scene, AxisName axis, bool secondLook)
    {
        if (CharacteristicKinds.Find("axis-scale") is not { } kind)
            return;
        scene.SetUp();
        var places = Places(scene.Draw.Drive.PeriodMm, scene.Draw.Caliper.RangeMm);
        var start = scene.Chance.NextUniform(50, 150);
        var window = scene.NewWindow();
        double Length(int i) => 4 + scene.Stand(axis, start + places[i].Mm, scene.From(places[i].From), start, window)
            - scene.Stand(axis, start, 1, start, window);
        double[] values = [.. Enumerable.Range(0, places.Length).Select(i => scene.ReadCaliper(Length(i)))];
        var options = Options(scene, axis);
        if (kind.Evaluate(Table(places, values), options) is not Core.Outcome<Finding>.Good(var finding))
            return;
        if (finding.Suspects.Any(suspect => suspect.Row > 0))
        {
            foreach (var suspect in finding.Suspects.Where(suspect => suspect.Row > 0))
                values[suspect.Row - 1] = scene.ReadCaliper(Length(suspect.Row - 1));
            if (kind.Evaluate(Table(places, values), options) is Core.Outcome<Finding>.Good(var again))
                finding = again;
        }

        Act(scene, axis, finding, secondLook);
    }

    private static void Act(Scene scene, AxisName axis, Finding finding, bool secondLook)
    {
        if (finding.Headline.Value is not { } found)
            return;
        if (finding.Advice.Action == AdviceAction.FindTheFault && Math.Abs(found) > scene.Draw.Drive.WrongNominalLimit)
        {
            // The ratio detective names the lead or the switch; the owner puts the ratio right and measures again.
            if (secondLook && NearestMistake(found) is { } mistake)
            {
                scene.CorrectScale(axis, mistake - 1);
                Once(scene, axis, secondLook: false);
            }

            return;
        }

        if (finding.Advice is { Action: AdviceAction.Change, Setting: { } setting })
            scene.CorrectScale(axis, (setting.Current / setting.AsStored) - 1);
        if (finding.Parameter("reversal") is { Value: { } reversal, ExpandedUncertainty: { } half } && reversal + half < 0)
            scene.Compensate(axis, -reversal);
    }

    /// <summary>The common mistake that a scale error looks like; null where it looks like none.</summary>
    public static double? NearestMistake(double found)
    {
        double[] mistakes = [1.016, 1 / 1.016, 2, 0.5, 1.25, 1.6];
        var nearest = mistakes.MinBy(mistake => Math.Abs(((1 + found) / mistake) - 1));
        return Math.Abs(((1 + found) / nearest) - 1) < 0.006 ? nearest : null;
    }

    /// <summary>Quarter periods at both ends, half a period apart in the middle, sides alternating.</summary>
    private static ImmutableArray<(double Mm, int From)> Places(double period, double range)
    {
        var end = range - 8;
        var quarter = period / 4;
        return
        [
            (0, 1), (end - (3 * quarter), -1), (end - (2 * quarter), 1), (quarter, -1), ((end - (period / 2)) / 2, 1),
            ((end + (period / 2)) / 2, -1), (2 * quarter, 1), (end - quarter, -1), (end, 1), (3 * quarter, -1),
        ];
    }

    private static FitOptions Options(Scene scene, AxisName axis) => new()
    {
        Axis = axis,
        StepsPerMm = scene.Machine.Settings.StepsPerMm[(int)axis],
        Drive = scene.Draw.Drive.Id switch { "belt" => DriveKind.Belt, "rack" => DriveKind.Rack, _ => DriveKind.Screw },
        TravelPerTurnMm = scene.Draw.Drive.PeriodMm,
        ScrewGrade = scene.Draw.Drive.KnownGrade,
        Instrument = new Instrument("caliper", InstrumentKind.CaliperDigital, scene.Draw.Caliper.LimitMm, scene.Draw.Caliper.ResolutionMm,
            scene.Draw.Caliper.RangeMm, "population"),
        Hand = Study(scene),
        TravelMm = axis == AxisName.X ? 400 : 500,
        Tolerance = new Tolerance(500e-6, "1", "500ppm"),
    };

    /// <summary>The owner's gauge study: fourteen degrees of freedom, slips left out by the study itself.</summary>
    public static HandStudy Study(Scene scene)
    {
        var (hand, own, digit) = (scene.Operator.Hand.ReadingSdMm, scene.Draw.Caliper.OwnScatterMm, scene.Draw.Caliper.ResolutionMm);
        var variance = (hand * hand) + (own * own) + (digit * digit / 12);
        var chi = Enumerable.Range(0, 14).Sum(_ => Square(scene.Chance.NextNormal()));
        return new HandStudy("owner", "caliper", Math.Sqrt(variance * chi / 14), 14);
    }

    private static double Square(double value) => value * value;

    private static ReadingTable Table(ImmutableArray<(double Mm, int From)> places, double[] values) => new()
    {
        Source = "proof",
        Columns = ["commanded_mm", "measured_mm", "direction"],
        Rows = [.. values.Select((value, i) => new ReadingRow
        {
            Number = i + 1,
            Numbers = ImmutableDictionary<string, double>.Empty.Add("commanded_mm", places[i].Mm).Add("measured_mm", value),
            Words = ImmutableDictionary<string, string>.Empty.Add("direction", places[i].From > 0 ? "+" : "-"),
        })],
    };
}
